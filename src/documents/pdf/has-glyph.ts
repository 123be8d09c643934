import { type FontCut, fontFile } from './pdf-fonts.ts';

/** First and last code point of each run that a font has letters for, in order. */
type Covered = readonly (readonly [first: number, last: number])[];

const WINDOWS = 3;
const WHOLE_UNICODE = 10;

function tableAt(font: Buffer, name: string): number {
  const count = font.readUInt16BE(4);
  for (let at = 12; at < 12 + count * 16; at += 16) {
    if (font.toString('latin1', at, at + 4) === name) return font.readUInt32BE(at + 8);
  }
  throw new RangeError(`the font has no table ${name}: it is not one that can be embedded`);
}

/**
 * The table that maps characters to letters, in the form for the whole of Unicode, format 12: ISO/IEC 14496-22, 5.2.1.
 * The font library draws an empty box for what is missing, and says nothing.
 */
function coveredBy(font: Buffer): Covered {
  const table = tableAt(font, 'cmap');
  const count = font.readUInt16BE(table + 2);
  for (let at = table + 4; at < table + 4 + count * 8; at += 8) {
    if (font.readUInt16BE(at) !== WINDOWS || font.readUInt16BE(at + 2) !== WHOLE_UNICODE) continue;
    const its = table + font.readUInt32BE(at + 4);
    return Array.from({ length: font.readUInt32BE(its + 12) }, (_, group) => {
      const place = its + 16 + group * 12;
      return [font.readUInt32BE(place), font.readUInt32BE(place + 4)] as const;
    });
  }
  throw new RangeError('the font does not say which characters of Unicode it has: take one that does');
}

const kept = new Map<FontCut, Covered>();

/** Whether a cut has a letter for a character. */
export function hasGlyph(letter: string, cut: FontCut): boolean {
  const covered = kept.get(cut) ?? coveredBy(fontFile(cut));
  kept.set(cut, covered);
  const point = letter.codePointAt(0) ?? 0;
  let [low, high] = [0, covered.length - 1];
  while (low <= high) {
    const middle = (low + high) >> 1;
    const [first, last] = covered[middle] ?? [0, -1];
    if (point < first) high = middle - 1;
    else if (point > last) low = middle + 1;
    else return true;
  }
  return false;
}
