import { LIST_COLUMNS } from './list-columns.ts';
import { type ListedContainers, listedRows } from './listed-rows.ts';

function rowJson(cells: readonly (string | undefined)[]): string {
  return JSON.stringify(Object.fromEntries(LIST_COLUMNS.map(({ name }, at) => [name, cells[at]])));
}

/** The list as JSON, row by row. Measured values are strings, so that 7.10 stays 7.10; what is not known is left out. */
export async function* sampleListJson(containers: ListedContainers): AsyncGenerator<string, void> {
  yield `{"columns":${JSON.stringify(LIST_COLUMNS.map(({ name }) => name))},"rows":[`;
  const rows = listedRows(containers);
  let next = await rows.next();
  for (let first = true; !next.done; next = await rows.next(), first = false) {
    yield `${first ? '\n' : ',\n'}${rowJson(next.value.cells)}`;
  }
  yield `\n],"trailer":${JSON.stringify(next.value)}}\n`;
}
