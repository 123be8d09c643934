import type { FieldsOf } from '../../../protocol/kind.ts';
import { laboratoryResult } from '../../../protocol/kinds/laboratory-result.ts';
import { isSameJson } from '../../../protocol/same-json.ts';
import { derivedId } from '../../derived-id.ts';
import type { EventSamples } from '../../samples/event-samples.ts';
import type { ReceivedAs } from '../../samples/received.ts';
import type { BlankRecord, SampleRecord } from '../../samples/sample-records.ts';
import { indexSamples, type SamplesIndex } from '../../samples/samples-index.ts';
import { toldTimes } from '../told-times.ts';
import { tripBlankNote } from './blank-note.ts';
import { bottleNote } from './bottle-note.ts';
import { estimateNote } from './estimate-note.ts';
import { firstReceived, receivedBy } from './first-received.ts';
import { type LineProblem, type ResultColumn, readHeading } from './result-columns.ts';
import { type ResultCells, type ResultLine, readResultLine } from './result-line.ts';
import { timeFaults } from './result-times.ts';
import { judgeUnit } from './result-units.ts';
import { unlikelyNote } from './unlikely-note.ts';

export type ResultFields = FieldsOf<typeof laboratoryResult>;
export type ResultOf = SampleRecord | BlankRecord;

/** A line of a file: where it begins, and its cells. */
export interface FileLine {
  readonly line: number;
  readonly cells: readonly string[];
}

export interface ResultsAsked {
  readonly of: EventSamples;
  readonly firm: string;
  readonly laboratory: string | null;
  /** What a number names for whoever asks; of several, the number does not say which. */
  readonly named: ReadonlyMap<string, readonly ResultOf[]>;
  readonly observed: ResultFields['observed'];
}

export interface JudgedResult {
  readonly line: number;
  readonly id: string;
  readonly set: ResultFields;
}

/** What is taken, and that somebody may want to look at. */
export interface LineNote {
  readonly line: number;
  readonly column: string | null;
  readonly given: string | null;
  readonly note: string;
}

export interface ResultsJudged {
  readonly lines: number;
  readonly fresh: readonly JudgedResult[];
  /** Lines that say what is on record already. */
  readonly alreadyThere: number;
  readonly problems: readonly LineProblem[];
  readonly notes: readonly LineNote[];
}

type Ordered = NonNullable<EventSamples['suites'][number]['fields']['analytes']>[number];

function orderedOf(index: SamplesIndex, of: ResultOf): readonly Ordered[] {
  return of.fields.suites.flatMap((name) => index.suites.get(name)?.fields.analytes ?? []);
}

function same(a: string, b: string): boolean {
  return a.trim().toLowerCase() === b.trim().toLowerCase();
}

/** By which results are told apart: a second run is of another method or fraction. */
function keyOf(
  of: string,
  fields: Pick<ResultFields, 'analyte' | 'casNumber' | 'method' | 'fraction'>,
  cas?: string,
): string {
  const analyte = fields.casNumber ?? cas ?? fields.analyte.trim().toLowerCase();
  return [of, analyte, ...[fields.method, fields.fraction].map((text) => text?.trim().toLowerCase() ?? '')].join('\n');
}

type Content = Omit<ResultFields, 'observed'>;

function contentOf({ observed: _, ...content }: ResultFields): Content {
  return content;
}

/** Judges the lines of a file one after the other, against what was ordered and what is on record. */
class Judge {
  readonly #asked: ResultsAsked;
  readonly #index: SamplesIndex;
  readonly #known: ReadonlyMap<string, Content>;
  readonly #seen = new Map<string, number>();
  /** As a laboratory is told them: what is refused by a time would tell it the true one of a blind duplicate. */
  readonly #collected: ReadonlyMap<string, string>;
  readonly #received: ReadonlyMap<string, string>;
  readonly #bottles: ReadonlyMap<string, ReceivedAs>;
  readonly problems: LineProblem[] = [];
  readonly notes: LineNote[] = [];
  readonly fresh: JudgedResult[] = [];
  alreadyThere = 0;

  constructor(asked: ResultsAsked) {
    this.#asked = asked;
    this.#index = indexSamples(asked.of);
    this.#collected = toldTimes(asked.of);
    this.#bottles = receivedBy(asked, this.#index);
    this.#received = firstReceived(asked.of.containers, this.#bottles);
    this.#known = new Map(asked.of.results.map(({ fields }) => [this.#keyOnRecord(fields), contentOf(fields)]));
  }

  #keyOnRecord(fields: ResultFields): string {
    const holder = fields.sample ?? fields.blank ?? '';
    const of = this.#index.samples.get(holder) ?? this.#index.blanks.get(holder);
    return keyOf(holder, fields, of && this.#ordered(of, fields)?.casNumber);
  }

  #ordered(
    of: ResultOf,
    { analyte, casNumber }: { readonly analyte?: string; readonly casNumber?: string | undefined },
  ) {
    const all = orderedOf(this.#index, of);
    const found =
      all.find((one) => casNumber !== undefined && one.casNumber === casNumber) ??
      all.find((one) => analyte !== undefined && same(one.name, analyte));
    return found && { ...found, casNumber: found.casNumber ?? undefined, unit: found.unit ?? undefined };
  }

  #say(line: number, column: ResultColumn | null, cells: ResultCells, problem: string, toDo: string): void {
    this.problems.push({ line, column, given: column === null ? null : (cells[column] ?? null), problem, toDo });
  }

  #sampleOf(line: number, cells: ResultCells): ResultOf | null {
    const number = cells.sampleNumber ?? '';
    const [only, ...others] = this.#asked.named.get(number) ?? [];
    if (only && others.length === 0) return only;
    if (only)
      this.#say(line, 'sampleNumber', cells, 'more than one sample has this number', 'ask the office which is meant');
    else
      this.#say(
        line,
        'sampleNumber',
        cells,
        'no sample or blank on the list has this number',
        'compare it with the list',
      );
    return null;
  }

  /** What is ordered under the name, and under the CAS number, is one analyte. */
  #fitsOrder(line: number, { cells }: ResultLine, of: ResultOf): boolean {
    const ordered = this.#ordered(of, cells);
    const { analyte, casNumber } = cells;
    const byName = analyte === undefined ? undefined : this.#ordered(of, { analyte });
    if (casNumber !== undefined && byName?.casNumber !== undefined && byName.casNumber !== casNumber) {
      const toDo = `${analyte} was ordered as ${byName.casNumber}: compare both with the report`;
      this.#say(line, 'casNumber', cells, 'name and CAS number are of two analytes', toDo);
      return false;
    }
    if (analyte === undefined && ordered === undefined) {
      const problem = 'it is empty, and the CAS number is of nothing that was ordered';
      this.#say(line, 'analyte', cells, problem, 'give its name');
      return false;
    }
    const unit = judgeUnit(cells.unit ?? '', ordered?.unit);
    if (unit.as === 'wrong') this.#say(line, 'unit', cells, unit.problem, unit.toDo);
    if (unit.as === 'differs') this.notes.push({ line, column: 'unit', given: cells.unit ?? null, note: unit.note });
    if (!ordered && orderedOf(this.#index, of).length > 0) {
      const note = 'it was not ordered of this sample; it is kept all the same';
      this.notes.push({ line, column: 'analyte', given: analyte ?? casNumber ?? null, note });
    }
    return unit.as !== 'wrong';
  }

  /** What is by the times impossible is not taken; what is worth a look is noted. */
  #fitsTimes(line: number, { cells }: ResultLine, of: ResultOf): boolean {
    const [collected = null, received = null] = [this.#collected.get(of.id), this.#received.get(of.id)];
    const faults = timeFaults(cells, { collected, received, now: this.#asked.observed.at });
    for (const { column, isNote, problem, toDo } of faults) {
      if (!isNote) this.#say(line, column, cells, problem, toDo);
      else this.notes.push({ line, column, given: cells[column] ?? null, note: `${problem}; ${toDo}` });
    }
    return faults.every(({ isNote }) => isNote);
  }

  #fields({ cells, qualifiers, condition, value }: ResultLine, of: ResultOf): ResultFields {
    const {
      sampleNumber: _,
      qualifiers: _codes,
      condition: _said,
      value: _value,
      analyte,
      unit = '',
      ...others
    } = cells;
    const { event } = this.#asked.of;
    const { laboratory, observed } = this.#asked;
    const name = analyte ?? this.#ordered(of, cells)?.name ?? '';
    return {
      event: event.id,
      ...(of.kind === 'blank' ? { blank: of.id } : { sample: of.id }),
      analyte: name,
      unit,
      condition,
      ...others,
      ...(value === undefined ? {} : { value }),
      ...(qualifiers.length === 0 ? {} : { qualifiers: [...qualifiers] }),
      ...(laboratory === null ? {} : { laboratory }),
      observed,
    };
  }

  #isNew(line: number, key: string, cells: ResultCells, fields: ResultFields): boolean {
    const before = this.#seen.get(key);
    this.#seen.set(key, line);
    if (before !== undefined) {
      const toDo = 'a second run is told apart by its method or fraction; leave one of the two lines';
      this.#say(line, null, cells, `line ${before} is of the same sample, analyte, method and fraction`, toDo);
      return false;
    }
    const known = this.#known.get(key);
    if (known === undefined) return true;
    if (isSameJson({ ...known, laboratory: null }, { ...contentOf(fields), laboratory: null })) this.alreadyThere += 1;
    else {
      const toDo = 'a result on record is corrected with a reason; ask the office, or leave the line out';
      const problem = 'another result of the same sample, analyte, method and fraction is on record';
      this.#say(line, null, cells, problem, toDo);
    }
    return false;
  }

  /** What may be so, and somebody may want to look at before it is handed in. */
  #ask(line: number, read: ResultLine, of: ResultOf, analyte: string): void {
    const { of: samples, laboratory } = this.#asked;
    const known = { of: samples, index: this.#index, laboratory, received: this.#bottles };
    const inBlank = of.kind === 'blank' && read.condition === 'detected';
    const asked = [
      ['value', unlikelyNote(of, read)],
      ['sampleNumber', bottleNote(of.id, analyte, known)],
      ['value', inBlank ? tripBlankNote(of as BlankRecord, analyte, this.#asked) : null],
    ] as const;
    for (const [column, note] of asked) {
      if (note !== null) this.notes.push({ line, column, given: read.cells[column] ?? null, note });
    }
  }

  judge(line: number, cells: ResultCells): void {
    const read = readResultLine(cells, line);
    if (!('cells' in read)) {
      this.problems.push(...read);
      return;
    }
    const of = this.#sampleOf(line, cells);
    if (!of || !this.#fitsOrder(line, read, of) || !this.#fitsTimes(line, read, of)) return;
    const note = estimateNote(read);
    if (note !== null) this.notes.push({ line, column: 'value', given: cells.value ?? null, note });
    const fields = this.#fields(read, of);
    const shape = laboratoryResult.fields.safeParse(fields);
    const [issue] = shape.error?.issues ?? [];
    if (issue) {
      const column = String(issue.path[0] ?? '') as ResultColumn;
      this.#say(line, column in cells ? column : null, cells, issue.message, 'mend this cell');
      return;
    }
    const key = keyOf(of.id, fields, this.#ordered(of, cells)?.casNumber);
    if (!this.#isNew(line, key, cells, fields)) return;
    this.#ask(line, read, of, fields.analyte);
    this.fresh.push({ line, id: derivedId(this.#asked.firm, 'laboratory-result', fields.event, key), set: fields });
  }
}

/** A value may hold whatever a text may; an empty one says nothing. */
function cellsOf(places: ReadonlyMap<ResultColumn, number>, cells: readonly string[]): ResultCells {
  const given = [...places].map(([name, at]) => [name, cells[at]?.trim() ?? ''] as const);
  return Object.fromEntries(given.filter(([, cell]) => cell !== ''));
}

/** Judges a file of results: every line, with all that is wrong with it and what to do. Nothing is written here. */
export function judgeResults(file: readonly FileLine[], asked: ResultsAsked): ResultsJudged {
  const [heading, ...rows] = file;
  const { places, problems } = readHeading(heading?.cells ?? []);
  if (problems.length > 0) return { lines: rows.length, fresh: [], alreadyThere: 0, problems, notes: [] };
  const judge = new Judge(asked);
  for (const { line, cells } of rows) {
    const width = heading?.cells.length ?? 0;
    if (cells.length > width) {
      const problem = `it has ${cells.length} cells, and the heading has ${width}`;
      judge.problems.push({
        line,
        column: null,
        given: null,
        problem,
        toDo: 'put a text with the separator in it between quotation marks',
      });
    } else judge.judge(line, cellsOf(places, cells));
  }
  const { fresh, alreadyThere, notes } = judge;
  return { lines: rows.length, fresh, alreadyThere, problems: judge.problems, notes };
}
