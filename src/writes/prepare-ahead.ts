import type { Batch, Line } from './batch.ts';
import { preparedLine } from './prepared-line.ts';

/** Lines that are read in one turn: about a millisecond, so that an answer of the database never waits for long. */
const LINES_A_TURN = 32;

function prepare(line: Line): void {
  try {
    preparedLine(line);
  } catch {
    // too little memory for it just now: whoever needs the line asks again, and answers for it
  }
}

/**
 * Reads and hashes the lines of batches that wait, a few at a time, while the database works for those before them.
 * Nothing is decided here: that needs the lock.
 */
export function prepareAhead(): (batch: Batch) => void {
  const waiting: Line[] = [];
  const turn = (): void => {
    for (const line of waiting.splice(0, LINES_A_TURN)) prepare(line);
    if (waiting.length > 0) setImmediate(turn);
  };
  return (batch) => {
    if (waiting.length === 0) setImmediate(turn);
    waiting.push(...batch.lines);
  };
}
