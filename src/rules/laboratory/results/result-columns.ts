/** The columns of a file of results. Case, spaces, hyphens and underscores in a heading do not matter. */
export const RESULT_COLUMNS = {
  sampleNumber: 'the number of the sample or blank, as on its labels',
  analyte: 'its name as the report has it; may be left out where a CAS number names one that was ordered',
  casNumber: 'CAS Registry Number, with its check digit',
  value: 'as a decimal figure such as 7.10; empty where nothing was detected',
  unit: 'of the value and the limits',
  qualifiers: 'codes with spaces between, such as U, or J B',
  condition: 'detected, not-detected, below-reporting-limit or not-reported; by value and qualifiers where it is empty',
  reportingLimit: 'as a decimal figure',
  detectionLimit: 'as a decimal figure',
  method: 'of the analysis',
  fraction: 'Total or Dissolved, say',
  extracted: 'date and time with offset',
  analyzed: 'date and time with offset',
  dilution: 'factor, as a decimal figure',
  remark: 'any text',
} as const;
export type ResultColumn = keyof typeof RESULT_COLUMNS;

const NAMES = Object.keys(RESULT_COLUMNS) as ResultColumn[];

function plain(heading: string): string {
  return heading.toLowerCase().replace(/[\s_-]/g, '');
}

const BY_PLAIN = new Map(NAMES.map((name) => [plain(name), name]));

export interface LineProblem {
  readonly line: number;
  /** Null where it is about the line as a whole. */
  readonly column: string | null;
  readonly given: string | null;
  readonly problem: string;
  readonly toDo: string;
}

export interface HeadingRead {
  /** The place of each column. */
  readonly places: ReadonlyMap<ResultColumn, number>;
  readonly problems: readonly LineProblem[];
}

function missing(places: ReadonlyMap<ResultColumn, number>): readonly string[] {
  const needed: ResultColumn[] = ['sampleNumber', 'value', 'unit'];
  const lacking: string[] = needed.filter((name) => !places.has(name));
  return places.has('analyte') || places.has('casNumber') ? lacking : [...lacking, 'analyte or casNumber'];
}

/** Nothing that a file holds is passed over: a column that is not known is a problem, since what is in it would be lost. */
export function readHeading(cells: readonly string[]): HeadingRead {
  const places = new Map<ResultColumn, number>();
  const problems: LineProblem[] = [];
  const say = (column: string | null, problem: string, toDo: string) =>
    problems.push({ line: 1, column, given: column, problem, toDo });
  cells.forEach((heading, at) => {
    const name = BY_PLAIN.get(plain(heading));
    if (name === undefined) {
      say(heading, 'this column is not known', `remove it, or name it one of: ${NAMES.join(', ')}`);
    } else if (places.has(name)) {
      say(heading, `the column ${name} is there twice`, 'leave one of them');
    } else places.set(name, at);
  });
  const lacking = missing(places);
  if (lacking.length > 0) say(null, `the heading lacks ${lacking.join(', ')}`, 'the first line names the columns');
  return { places, problems };
}
