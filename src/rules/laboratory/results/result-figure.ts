import { decimal } from '../../../protocol/primitives.ts';

export interface CellFault {
  readonly problem: string;
  readonly toDo: string;
}

/** Why a cell is no figure, and what to write instead; null for a figure. */
export function figureFault(cell: string): CellFault | null {
  if (decimal.safeParse(cell).success) return null;
  const problem = 'it is no decimal figure';
  if (/^[<>]/.test(cell))
    return { problem, toDo: 'leave the value empty, give the qualifier U and the reporting limit' };
  if (/^(nd|n\.d\.|bdl|u)$/i.test(cell)) return { problem, toDo: 'leave the value empty, and give the qualifier U' };
  if (/^-?\d+,\d+$/.test(cell)) return { problem, toDo: `write a point for the comma: ${cell.replace(',', '.')}` };
  if (/^-?\d[\d,]*\.?\d*$/.test(cell) && cell.includes(',')) return { problem, toDo: 'write it without commas' };
  if (/e[-+]?\d+$/i.test(cell)) return { problem, toDo: 'write it out without an exponent' };
  if (/^'/.test(cell)) return { problem, toDo: 'leave out the apostrophe that a spreadsheet puts before a sign' };
  if (/^[=@]/.test(cell)) return { problem, toDo: 'it is a formula of a spreadsheet: save its result as a figure' };
  return { problem, toDo: 'write a figure such as 7.10, with at most 9 digits before the point and 6 after it' };
}
