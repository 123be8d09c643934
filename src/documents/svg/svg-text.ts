/** What XML 1.0 cannot hold at all: most control characters, halves of pairs, and the last two places of the plane. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const NOT_XML = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Surrogate}/gu;

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it may stand in an element or an attribute, whatever somebody typed. */
export function xmlText(text: string): string {
  return text.replace(NOT_XML, '\ufffd').replace(/[&<>"']/g, (one) => ESCAPES[one] ?? '');
}

/** Widths in parts of the size of the letters, of a plain sans-serif; what is wider than most counts as wide. */
const NARROW = /[iljtfrI.,:;'|!()[\] ]/;
const WIDE = /[mwMWG@%]|[^\u0020-\u024f]/;

function widthOf(letter: string): number {
  if (NARROW.test(letter)) return 0.34;
  return WIDE.test(letter) ? 1 : 0.62;
}

/** About how wide a text will be; rather too wide, since fonts differ. */
export function textWidth(text: string, size: number): number {
  return [...text].reduce((sum, letter) => sum + widthOf(letter), 0) * size;
}

/** As much of a text as fits, with a mark where something was left out. */
export function cutToWidth(text: string, size: number, width: number): string {
  if (textWidth(text, size) <= width) return text;
  const letters = [...text];
  let room = width - widthOf('\u2026') * size;
  const kept = letters.findIndex((letter) => {
    room -= widthOf(letter) * size;
    return room < 0;
  });
  return `${letters.slice(0, Math.max(kept, 0)).join('').trimEnd()}\u2026`;
}

/** A length on the page: two digits are finer than any screen, and the same everywhere. */
export function px(length: number): string {
  return String(Math.round(length * 100) / 100);
}
