import { Temporal } from 'temporal-polyfill';

export const WIDTH = 110;

/** "Wed 14 Oct 17:40", as it is at the site. */
export function moment(instant: string | number, zone: string): string {
  const ms = typeof instant === 'number' ? instant : Date.parse(instant);
  const civil = Temporal.Instant.fromEpochMilliseconds(Math.round(ms)).toZonedDateTimeISO(zone);
  const date = civil.toLocaleString('en-GB', { weekday: 'short', day: '2-digit', month: 'short' });
  const time = civil.toPlainTime().toString({ smallestUnit: 'minute' });
  return `${date.replace(',', '')} ${time}`;
}

/** Breaks a text into lines at its spaces; the later ones are set in by as many spaces as the first begins with. */
export function wrapped(text: string, indent: number): string[] {
  const lines: string[] = [];
  let line = ' '.repeat(indent);
  for (const word of text.split(' ')) {
    const next = line.trim() === '' ? line + word : `${line} ${word}`;
    if (next.length > WIDTH && line.trim() !== '') {
      lines.push(line);
      line = ' '.repeat(indent) + word;
    } else line = next;
  }
  return [...lines, line];
}

/** Cells under each other, each column as wide as its widest cell. */
export function table(rows: readonly (readonly string[])[]): string[] {
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return rows.map((row) => `  ${row.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join('  ')}`.trimEnd());
}
