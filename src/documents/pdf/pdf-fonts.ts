import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

/** The two cuts that a page needs. */
export type FontCut = 'plain' | 'bold';

const FILES: Readonly<Record<FontCut, string>> = {
  plain: 'DejaVuSansCondensed.ttf',
  bold: 'DejaVuSansCondensed-Bold.ttf',
};

const kept = new Map<FontCut, Buffer>();

/**
 * A font that is embedded: the fonts that every PDF reader brings hold neither "≤" nor "₂" nor most names. It is part
 * of an installed package, as imported code is, and read once.
 */
export function fontFile(cut: FontCut): Buffer {
  const known = kept.get(cut);
  if (known) return known;
  const read = readFileSync(createRequire(import.meta.url).resolve(`dejavu-fonts-ttf/ttf/${FILES[cut]}`));
  kept.set(cut, read);
  return read;
}
