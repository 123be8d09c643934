/** RFC 5545, 3.1: a line is folded before its 76th octet. */
const MOST_OCTETS = 75;

/** RFC 5545, 3.3.11: no control characters but the tab; a line end is written as \n. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const NOT_TEXT = /[\u0000-\u0008\u000b-\u001f\u007f]|\p{Surrogate}/gu;

/** A value of type TEXT. */
export function calendarText(text: string): string {
  return text
    .replace(/\r\n?/g, '\n')
    .replace(NOT_TEXT, '\ufffd')
    .replace(/[\\;,]/g, (one) => `\\${one}`)
    .replaceAll('\n', '\\n');
}

/** "20260504T144000Z". RFC 5545, 3.3.5, form 2; parts of a second have no place there. */
export function calendarInstant(instant: string): string {
  const at = new Date(instant);
  if (Number.isNaN(at.getTime())) {
    throw new RangeError(`a calendar needs an instant, not "${instant}": give one like 2026-05-04T14:40:00Z`);
  }
  return `${at.toISOString().slice(0, 19).replace(/[-:]/g, '')}Z`;
}

/** A line of the calendar, folded between letters and not within one. RFC 5545, 3.1. */
export function contentLine(name: string, value: string): string {
  const lines: string[] = [];
  let line = '';
  let octets = 0;
  for (const letter of `${name}:${value}`) {
    const size = Buffer.byteLength(letter);
    if (octets + size > MOST_OCTETS) {
      lines.push(line);
      // the space that says that the line goes on counts
      line = ' ';
      octets = 1;
    }
    line += letter;
    octets += size;
  }
  return `${[...lines, line].join('\r\n')}\r\n`;
}
