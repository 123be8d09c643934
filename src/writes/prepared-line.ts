import { hash } from 'node:crypto';
import { LIMITS } from '../protocol/limits.ts';
import { isUnreadable, type ReadMutation, type Unreadable } from '../protocol/read-mutation.ts';
import { faultOf } from '../store/fault.ts';
import type { Line } from './batch.ts';
import { neededOnce } from './needed-once.ts';
import { readLine } from './read-line.ts';

/** What a line says, as far as that can be told without knowing anything else. */
export interface PreparedLine {
  /** SHA-256 of its bytes. */
  readonly hash: Buffer;
  readonly read: ReadMutation | Unreadable;
  /** What code of ours failed with as it was read; it is thrown where the line is decided, and its place is known. */
  readonly fault?: unknown;
}

const known = new WeakMap<Line, PreparedLine>();

function read(line: Line): ReadMutation | Unreadable {
  if (line.bytes.length > LIMITS.mutationBytes) {
    const detail = `the line has ${line.bytes.length} bytes; the limit is mutationBytes ${LIMITS.mutationBytes}`;
    return { code: 'too_large', detail };
  }
  if (line.text === null) return { code: 'unreadable_text', detail: 'the line is not UTF-8' };
  const result = readLine(line.text, line.version);
  if (!isUnreadable(result)) neededOnce(result);
  return result;
}

function readOrFault(line: Line): Omit<PreparedLine, 'hash'> {
  try {
    return { read: read(line) };
  } catch (error) {
    // whatever is thrown here is of ours: no database and no driver has a part in it
    if (error instanceof Error && /allocat/i.test(error.message)) throw error;
    const fault = faultOf(error) === 'ours' ? error : new TypeError('a line could not be read', { cause: error });
    return { read: { code: 'server_failed', detail: 'the server failed as it read the line' }, fault };
  }
}

/** Hashes and reads a line, once however often it is asked for. */
export function preparedLine(line: Line): PreparedLine {
  const before = known.get(line);
  if (before) return before;
  const prepared = { hash: hash('sha256', line.bytes, 'buffer'), ...readOrFault(line) };
  known.set(line, prepared);
  return prepared;
}
