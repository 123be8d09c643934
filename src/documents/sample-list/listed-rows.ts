import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import type { SampleListRow } from '../../rules/laboratory/list-row.ts';
import { csvLine } from '../csv/csv-cell.ts';
import { LIST_COLUMNS } from './list-columns.ts';

export type SampleListRows = Iterable<SampleListRow> | AsyncIterable<SampleListRow>;

export interface ListTrailer {
  readonly count: number;
  /** SHA-256 of the heading and the rows as CSV, before the trailer: the same in every format of one list. */
  readonly sha256: string;
}

export interface ListedRow {
  readonly cells: readonly (string | undefined)[];
  readonly csv: string;
}

export const HEADING_CSV = csvLine(LIST_COLUMNS.map(({ name }) => name));

function isBefore(a: SampleListRow, b: SampleListRow): boolean {
  if (a.sampleNumber !== b.sampleNumber) return a.sampleNumber < b.sampleNumber;
  return a.labelId < b.labelId;
}

/** A list that is streamed cannot be sorted here, so whoever reads the rows brings them in order, and this looks. */
function checkOrder(before: SampleListRow | undefined, row: SampleListRow): void {
  if (!before || isBefore(before, row)) return;
  throw new RangeError(
    `the list is not in order: "${row.sampleNumber}" / "${row.labelId}" came after "${before.sampleNumber}" / ` +
      `"${before.labelId}"; bring the rows ordered by sample number, then label id, by code points, each once`,
  );
}

/** The rows one by one, and at the end how many they were and what they hash to. */
export async function* listedRows(containers: SampleListRows): AsyncGenerator<ListedRow, ListTrailer> {
  const hash = sha256.create().update(utf8ToBytes(HEADING_CSV));
  let count = 0;
  let before: SampleListRow | undefined;
  for await (const row of containers) {
    checkOrder(before, row);
    before = row;
    const cells = LIST_COLUMNS.map(({ of }) => of(row));
    const csv = csvLine(cells);
    hash.update(utf8ToBytes(csv));
    count += 1;
    yield { cells, csv };
  }
  return { count, sha256: bytesToHex(hash.digest()) };
}

/** The first cells of the last row; the rest of the row is empty. */
export function trailerCells({ count, sha256: sum }: ListTrailer): readonly string[] {
  return ['end of list', String(count), `sha256:${sum}`];
}
