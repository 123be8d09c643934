import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import type { PageImage } from './pdf-pages.ts';

let isReady = false;

/** The texts of all 2D codes on a rendered page, read by another maker's decoder than the one that made them. */
export async function readCodes(image: PageImage): Promise<readonly string[]> {
  if (!isReady) {
    const wasm = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm');
    prepareZXingModule({ overrides: { wasmBinary: new Uint8Array(readFileSync(wasm)).buffer } });
    isReady = true;
  }
  const data = new Uint8ClampedArray(image.rgba);
  const seen = { data, width: image.width, height: image.height, colorSpace: 'srgb' as const };
  const codes = await readBarcodes(seen, { formats: ['DataMatrix'], maxNumberOfSymbols: 255, tryHarder: true });
  return codes.map(({ text }) => text);
}
