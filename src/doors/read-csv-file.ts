import { CsvError, parse } from 'csv-parse/sync';
import { LIMITS } from '../protocol/limits.ts';
import { Problem } from '../protocol/problem.ts';
import type { FileLine } from '../rules/laboratory/results/judge-results.ts';

const SEPARATORS = [',', ';', '\t'] as const;

/** The sign that the heading has most of: spreadsheets of half the world write semicolons. */
function separatorOf(text: string): string {
  const [heading = ''] = text.split(/\r\n|\n|\r/, 1);
  const plain = heading.replace(/"[^"]*"/g, '');
  const counts = SEPARATORS.map((sign) => ({ sign, count: plain.split(sign).length }));
  return counts.reduce((most, one) => (one.count > most.count ? one : most)).sign;
}

function fileFault({ code, lines }: CsvError & { readonly lines?: number }): Problem {
  const where = lines === undefined ? '' : ` near line ${lines}`;
  const detail = `the file cannot be read as CSV${where} (${code}): a quotation mark that is not closed, or one inside of a text that is not doubled`;
  return new Problem('unreadable_text', detail, lines === undefined ? {} : { line: lines });
}

interface Row {
  readonly record: readonly string[];
  /** As it stands in the file, with what ends it. */
  readonly raw: string;
}

function rowsOf(text: string): readonly Row[] {
  try {
    const options = { bom: true, relax_column_count: true, raw: true, max_record_size: 65_536 } as const;
    return parse(text, { ...options, delimiter: separatorOf(text) }) as unknown as Row[];
  } catch (error) {
    if (error instanceof CsvError) throw fileFault(error);
    throw error;
  }
}

/** Each row with the line on which it begins: a text between quotation marks may go over several. */
function numbered(rows: readonly Row[]): readonly FileLine[] {
  let line = 1;
  return rows.map(({ record, raw }) => {
    const began = line;
    line += raw.match(/\r\n|\n|\r/g)?.length ?? 0;
    return { line: began, cells: record };
  });
}

/**
 * The lines of a CSV file (RFC 4180), with or without a byte order mark, by commas, semicolons or tabs, whatever ends a line.
 * Lines whose cells are all empty are left out; a line is told by where it begins, as an editor counts.
 *
 * @throws Problem `unreadable_text` where quotation marks do not pair, `too_large` beyond the limit of lines
 */
export function readCsvFile(text: string): readonly FileLine[] {
  const rows = numbered(rowsOf(text)).filter(({ cells }) => cells.some((cell) => cell.trim() !== ''));
  if (rows.length - 1 <= LIMITS.resultsLines) return rows;
  const detail = `the file has ${rows.length - 1} lines; the limit is resultsLines ${LIMITS.resultsLines}: split it, each part with the heading`;
  throw new Problem('too_large', detail, { limit: 'resultsLines' });
}
