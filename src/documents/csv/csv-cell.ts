/** A figure as the records carry it: a minus sign is part of it. */
const FIGURE = /^[-+]?\d+(?:\.\d+)?$/;

/** What a spreadsheet takes for the beginning of a formula; a tab or a line end before it is passed over there. */
const FORMULA = /^[\t\r\n ]*[=+\-@]/;

/** An apostrophe in front makes a spreadsheet show the text as it is. Common practice, no source. */
function harmless(text: string): string {
  return FORMULA.test(text) && !FIGURE.test(text) ? `'${text}` : text;
}

/** RFC 4180, section 2, rules 5 to 7: what holds a comma, a quotation mark or a line end is quoted, and marks are doubled. */
export function csvCell(value: string | number | null | undefined): string {
  if (value === null || value === undefined) return '';
  const text = typeof value === 'number' ? String(value) : harmless(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** RFC 4180, section 2, rules 1 and 4: cells between commas, and each line ends with CR LF. */
export function csvLine(cells: readonly (string | number | null | undefined)[]): string {
  return `${cells.map(csvCell).join(',')}\r\n`;
}
