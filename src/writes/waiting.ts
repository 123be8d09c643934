import { isUnreadable, type ReadMutation } from '../protocol/read-mutation.ts';
import { VERSIONS, type Versions } from '../protocol/version.ts';
import type { Request } from '../rules/decide/request.ts';
import type { Seen } from '../rules/merge/register.ts';
import type { SetAsideRow } from '../store/write/load-set-aside.ts';
import { readLine } from './read-line.ts';

/** Something set aside earlier that may now be applied. */
export interface Waiting {
  readonly row: SetAsideRow;
  readonly read: ReadMutation;
  /** It was kept for a newer server, and is read for the first time now. */
  readonly takenUp?: true;
}

/** Whoever releases what too old an app wrote vouches for it: it is lifted as far as there are lenses. */
const ANY_AGE: Versions = { ...VERSIONS, minimum: 0 };

/** Where no version was noted, there were 1 and 2 alone, and 2 only added to 1. */
const UNNOTED = 1;

/** What can be read among the rows; the rest stays where it is, for a person. */
export function readWaiting(rows: readonly SetAsideRow[]): Waiting[] {
  return rows.flatMap((row) => {
    const read = readLine(row.raw.toString('utf8'), row.schemaVersion ?? UNNOTED, ANY_AGE);
    return isUnreadable(read) ? [] : [{ row, read }];
  });
}

/**
 * The mutation as its author made it, tried again.
 *
 * @param seen what its author had in view
 * @param role the author's, or that of the person who releases it
 */
export function requestOf(waiting: Waiting, seen: Seen | null, role = waiting.row.role): Request {
  const { client, person, differenceMs, uncertaintyMs } = waiting.row;
  const { clock } = waiting.read.mutation;
  const stamped = clock ? { ...clock, differenceMs: differenceMs ?? 0, uncertaintyMs: uncertaintyMs ?? 0 } : null;
  return { read: waiting.read, writer: { client, role, person }, clock: stamped, seen };
}
