import { strToU8, Zip, ZipDeflate } from 'fflate';
import { SHEET_BEGINS, SHEET_ENDS, xlsxParts } from './xlsx-parts.ts';

/** The earliest day that a ZIP file can name, by any clock: the same rows give the same bytes. */
const NO_DAY = new Date(1980, 0, 1);

function part(zip: Zip, path: string): ZipDeflate {
  const made = new ZipDeflate(path, { level: 6 });
  made.mtime = NO_DAY;
  zip.add(made);
  return made;
}

/** A workbook of one sheet whose rows come one by one as XML; what is packed is given on at once. */
export async function* xlsxStream(sheetName: string, rows: AsyncIterable<string>): AsyncGenerator<Uint8Array, void> {
  let packed: Uint8Array[] = [];
  const zip = new Zip((error, data) => {
    if (error) throw error;
    packed.push(data);
  });
  const taken = (): readonly Uint8Array[] => {
    const out = packed;
    packed = [];
    return out;
  };
  for (const [path, text] of xlsxParts(sheetName)) part(zip, path).push(strToU8(text), true);
  const sheet = part(zip, 'xl/worksheets/sheet1.xml');
  sheet.push(strToU8(SHEET_BEGINS));
  yield* taken();
  for await (const row of rows) {
    sheet.push(strToU8(row));
    yield* taken();
  }
  sheet.push(strToU8(SHEET_ENDS), true);
  zip.end();
  yield* taken();
}
