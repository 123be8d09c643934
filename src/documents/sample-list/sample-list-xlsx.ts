import { xlsxCell } from '../xlsx/xlsx-cell.ts';
import { xlsxStream } from '../xlsx/xlsx-stream.ts';
import { LIST_COLUMNS } from './list-columns.ts';
import { listedRows, type SampleListRows, trailerCells } from './listed-rows.ts';

function rowXml(row: number, cells: readonly (string | undefined)[], areFigures: boolean): string {
  const inner = cells.map((value, at) => xlsxCell(at, row, value, areFigures && LIST_COLUMNS[at]?.isFigure === true));
  return `<row r="${row}">${inner.join('')}</row>`;
}

async function* sheetRows(containers: SampleListRows): AsyncGenerator<string, void> {
  const headings = LIST_COLUMNS.map(({ name }) => name);
  yield rowXml(1, headings, false);
  const rows = listedRows(containers);
  let at = 2;
  let next = await rows.next();
  for (; !next.done; next = await rows.next(), at += 1) yield rowXml(at, next.value.cells, true);
  yield rowXml(at, trailerCells(next.value), false);
}

/** The list as a workbook, in pieces as they are packed; the last row as in CSV. */
export function sampleListXlsx(containers: SampleListRows): AsyncGenerator<Uint8Array, void> {
  return xlsxStream('samples', sheetRows(containers));
}
