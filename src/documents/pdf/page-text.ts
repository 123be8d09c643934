/** What no page can show: control characters, halves of pairs, and the marks that turn the direction of what follows. */
const NOT_SHOWN = /[\p{Cc}\p{Surrogate}\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufffe\uffff]/gu;

/** Text as it may be drawn, whatever somebody typed: what cannot be shown is seen to be there. */
export function pageText(text: string): string {
  return text.replace(/[\t\r\n]+/g, ' ').replace(NOT_SHOWN, '\ufffd');
}
