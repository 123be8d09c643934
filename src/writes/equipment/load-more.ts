import { heldById } from '../../store/write/load-held.ts';
import type { StoredHeld } from '../../store/write/stored-held.ts';
import type { WriteTx } from '../../store/write/transaction.ts';
import type { Group } from '../group.ts';

/** What a change is decided from, besides what was loaded for it: what was withdrawn before in this group stays so. */
export function take(group: Group, stored: readonly StoredHeld[]): void {
  const last = new Map(group.drafts.map((draft) => [draft.held.state.id, draft]));
  for (const held of stored) {
    if (last.get(held.state.id)?.withdrawn) continue;
    group.overlay.load(held);
    group.hashes.set(`${held.feed} ${held.state.id}`, held.rowHash);
  }
}

/** The records that nobody has loaded for this group yet. */
export async function loadMissing(tx: WriteTx, group: Group, ids: readonly unknown[]): Promise<void> {
  const wanted = new Set(ids.filter((id) => typeof id === 'string'));
  const missing = [...wanted].filter((id) => group.overlay.get(id) === undefined);
  if (missing.length > 0) take(group, await heldById(tx, missing));
}
