import { hasGlyph } from './has-glyph.ts';
import type { FontCut } from './pdf-fonts.ts';

/** What no page can show: control characters, halves of pairs, and the marks that turn the direction of what follows. */
const NOT_SHOWN = /[\p{Cc}\p{Surrogate}\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufffe\uffff]/gu;

/** Text as it may be told, whatever somebody typed: what cannot be shown is seen to be there. */
export function pageText(text: string): string {
  return text.replace(/[\t\r\n]+/g, ' ').replace(NOT_SHOWN, '\ufffd');
}

const BEYOND_LATIN = /[^ -\u017f]/u;

function numberOf(letter: string): string {
  return `[U+${(letter.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`;
}

/**
 * The same as it may be drawn. In the place of what the font has no letter for, Chinese for one, its number in Unicode
 * stands: of two names that would both be empty boxes each can be told and looked up.
 */
export function drawnText(text: string, cut: FontCut): string {
  const shown = pageText(text);
  if (!BEYOND_LATIN.test(shown)) return shown;
  return [...shown].map((letter) => (hasGlyph(letter, cut) ? letter : numberOf(letter))).join('');
}
