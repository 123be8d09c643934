import type { Fields } from '../../protocol/read-mutation.ts';
import type { Held } from '../held.ts';
import { knowsVoid, seesVoidRivals } from '../merge/knows-void.ts';
import { haveRivals, VOIDED } from '../merge/merge-memory.ts';
import type { Entry, Seen } from '../merge/register.ts';
import { wholeRevOf } from '../merge/seen.ts';
import { changeRecord } from './change-record.ts';
import type { Taken } from './decision.ts';
import type { Request } from './request.ts';

/**
 * Whoever edits a record that it does not know to be void says that the record counts: beside a void by another whom it
 * had not heard of, that is a conflict; whoever sees that conflict and edits something else leaves it open.
 */
function countsIt(request: Request, held: Held, seen: Seen | null): Fields {
  const silent = knowsVoid(held.memory, request.writer.client, seen) || seesVoidRivals(held.memory, seen);
  return silent ? {} : { [VOIDED]: false };
}

/**
 * What the same client has not given anew since: a change that was set aside and is applied late must not undo what its
 * own author did after it.
 */
function notSinceGiven(request: Request, held: Held, given: Fields): Fields {
  const { mutationId } = request.read.mutation;
  const isLater = ({ client, mutation }: Entry) =>
    client === request.writer.client && mutation !== null && mutation > mutationId;
  const registers = held.memory?.registers ?? {};
  return Object.fromEntries(Object.entries(given).filter(([field]) => !registers[field]?.some(isLater)));
}

/** Somebody else changed the record, elsewhere, since the revision seen. */
function hasMovedOn(request: Request, held: Held, seen: Seen | null): boolean {
  return held.state.rev > wholeRevOf(seen) && held.state.client !== request.writer.client;
}

/**
 * Merges the fields set into a record, field by field. What the writer had seen is superseded, what it had not seen
 * is kept beside it as a conflict.
 */
export function mergeFields(request: Request, held: Held, given: Fields, seen: Seen | null): Taken {
  const edits = request.read.mutation.verb !== 'record';
  const set = notSinceGiven(request, held, { ...given, ...(edits ? countsIt(request, held, seen) : {}) });
  const keepsFormer = request.read.kind.family === 'observation';
  const changed = changeRecord(request, held, { seen, set, keepsFormer });
  const clash = haveRivals(changed.held.memory, Object.keys(set));
  const quiet = hasMovedOn(request, held, seen) ? 'merged' : 'applied';
  return { outcome: clash ? 'conflict_kept' : quiet, changes: [changed], seenRev: wholeRevOf(seen) };
}
