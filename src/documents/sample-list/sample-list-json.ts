import type { SampleListRow } from '../../rules/laboratory/list-row.ts';
import { LIST_COLUMNS } from './list-columns.ts';
import { listedRows, type SampleListRows } from './listed-rows.ts';

function rowJson(cells: readonly (string | undefined)[]): string {
  return JSON.stringify(Object.fromEntries(LIST_COLUMNS.map(({ name }, at) => [name, cells[at]])));
}

/** One row as the list has it. */
export function listedRow(row: SampleListRow): Readonly<Record<string, string>> {
  const cells = LIST_COLUMNS.map(({ name, of }) => [name, of(row)] as const);
  return Object.fromEntries(cells.filter((cell): cell is [string, string] => cell[1] !== undefined));
}

/**
 * The list as JSON, row by row. Measured values are strings, so that 7.10 stays 7.10; what is not known is left out.
 *
 * @param head members that come before the rows, such as a cursor
 */
export async function* sampleListJson(
  containers: SampleListRows,
  head: Readonly<Record<string, unknown>> = {},
): AsyncGenerator<string, void> {
  yield '{';
  for (const [name, value] of Object.entries(head)) yield `${JSON.stringify(name)}:${JSON.stringify(value)},`;
  yield `"columns":${JSON.stringify(LIST_COLUMNS.map(({ name }) => name))},"rows":[`;
  const rows = listedRows(containers);
  let next = await rows.next();
  for (let first = true; !next.done; next = await rows.next(), first = false) {
    yield `${first ? '\n' : ',\n'}${rowJson(next.value.cells)}`;
  }
  yield `\n],"trailer":${JSON.stringify(next.value)}}\n`;
}
