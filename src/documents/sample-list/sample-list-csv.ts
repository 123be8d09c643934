import { csvLine } from '../csv/csv-cell.ts';
import { LIST_COLUMNS } from './list-columns.ts';
import { HEADING_CSV, listedRows, type SampleListRows, trailerCells } from './listed-rows.ts';

/** The list as CSV, row by row. Its last row says how many rows there are, and what all before it hashes to. */
export async function* sampleListCsv(containers: SampleListRows): AsyncGenerator<string, void> {
  yield HEADING_CSV;
  const rows = listedRows(containers);
  let next = await rows.next();
  for (; !next.done; next = await rows.next()) yield next.value.csv;
  const cells = trailerCells(next.value);
  yield csvLine(LIST_COLUMNS.map((_, at) => cells[at]));
}
