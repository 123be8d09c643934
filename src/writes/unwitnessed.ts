import { isUnreadable, type ReadMutation, type Unreadable } from '../protocol/read-mutation.ts';
import type { Overlay } from '../rules/overlay.ts';
import { epochBegan } from '../store/write/epoch-began.ts';
import type { WriteTx } from '../store/write/transaction.ts';
import type { Batch } from './batch.ts';
import type { Fresh } from './fresh.ts';
import type { Gathered } from './gather.ts';
import type { Waiting } from './waiting.ts';

function citesRevision(read: ReadMutation | Unreadable): boolean {
  const base = isUnreadable(read) ? undefined : read.mutation.base;
  return base !== undefined && 'rev' in base;
}

/**
 * A line of a copy that does not say in what history its author saw the revision that it cites: an older app made the
 * copy, or the phone did not hold the record any more. A phone speaks for itself, since it hears of a set-back before it
 * pushes.
 */
export function isUnwitnessed({ carried, seen = [] }: Batch, id: string, overlay: Overlay): boolean {
  // a record that is not here yet may come in the same group
  return carried && !seen.some((place) => place?.feed === overlay.get(id)?.feed);
}

/** The same of what was set aside, of which that was not noted; what a revoked device handed in was never compared. */
export function isUnwitnessedWaiting({ row }: Waiting): boolean {
  return row.carrier !== null || row.code === 'device_revoked';
}

/**
 * Whether a revision that is cited without a history may be of one that is gone. Asked only where there is such a line.
 */
export async function revisionsInDoubt(
  tx: WriteTx,
  { fresh, gathered, overlay }: { fresh: readonly Fresh[]; gathered: Gathered; overlay: Overlay },
): Promise<boolean> {
  const waiting = [...gathered.waiting, ...gathered.released.values()];
  const asks =
    fresh.some(({ batch, read }) => {
      return citesRevision(read) && !isUnreadable(read) && isUnwitnessed(batch, read.mutation.id, overlay);
    }) || waiting.some((one) => citesRevision(one.read) && isUnwitnessedWaiting(one));
  return asks ? epochBegan(tx) : false;
}
