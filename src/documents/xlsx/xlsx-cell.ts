import { xmlText } from '../svg/svg-text.ts';

/** What a spreadsheet holds without rounding: fifteen digits (IEEE 754 double), and no sign of plus. */
const FIGURE = /^-?\d+(?:\.\d+)?$/;
const MOST_DIGITS = 15;

/** Formats for as many decimals as were written, so that 7.10 is shown as 7.10. */
export const MOST_DECIMALS = 6;

/** The longest text of a cell: ECMA-376 leaves it open, spreadsheets stop here. Common practice, no source. */
const LONGEST_TEXT = 32_767;

/** "A", "B" ... "AA", from 0. */
export function columnLetters(at: number): string {
  const letter = String.fromCharCode(65 + (at % 26));
  return at < 26 ? letter : columnLetters(Math.floor(at / 26) - 1) + letter;
}

function isPlainFigure(text: string): boolean {
  const decimals = text.split('.')[1]?.length ?? 0;
  const digits = text.replace(/[-.]/g, '').replace(/^0+/, '').length;
  return FIGURE.test(text) && digits <= MOST_DIGITS && decimals <= MOST_DECIMALS;
}

/** "_x0041_" stands for "A" there, so a text that holds such letters says so. ECMA-376, part 1, 22.9.2.19. */
function escaped(text: string): string {
  const shown = text.length > LONGEST_TEXT ? `${text.slice(0, LONGEST_TEXT - 1)}\u2026` : text;
  return xmlText(shown.replace(/_(?=x[0-9a-fA-F]{4}_)/g, '_x005F_')).replaceAll('\r', '_x000D_');
}

/**
 * One cell. Text is an inline string, which no spreadsheet takes for a formula, whatever it begins with. A figure that
 * a double would round stays text.
 */
export function xlsxCell(at: number, row: number, value: string | undefined, isFigure: boolean): string {
  if (value === undefined) return '';
  const place = `${columnLetters(at)}${row}`;
  if (isFigure && isPlainFigure(value)) {
    return `<c r="${place}" s="${1 + (value.split('.')[1]?.length ?? 0)}"><v>${value}</v></c>`;
  }
  return `<c r="${place}" t="inlineStr"><is><t xml:space="preserve">${escaped(value)}</t></is></c>`;
}
