import {
  AT_NO_VISIT,
  atNoVisit,
  handedInDerived,
  handedInFlagIds,
  isHandedIn,
} from '../../rules/derive/handed-in-derived.ts';
import { heldUnder } from '../../store/write/load-held.ts';
import type { WriteTx } from '../../store/write/transaction.ts';
import { writeDerived } from '../derive-group.ts';
import type { Draft, Group } from '../group.ts';
import { loadMissing, take } from './load-more.ts';

/** All that belongs to no visit of these events: a container with its fills, a cooler with its seals. */
async function takeWhole(tx: WriteTx, group: Group, events: readonly string[]): Promise<void> {
  if (events.length === 0) return;
  const inEvents = await heldUnder(tx, events, AT_NO_VISIT);
  take(group, inEvents);
  const ids = inEvents.map(({ state }) => state.id);
  if (ids.length > 0) take(group, await heldUnder(tx, ids, AT_NO_VISIT));
}

/**
 * Derives what is asked about records of an event that belong to no visit, by who handed them in and when.
 *
 * @param events of which all such records are looked at, though nothing of them changes
 */
export async function deriveHandedIn(
  tx: WriteTx,
  group: Group,
  drafts: readonly Draft[],
  events: readonly string[],
): Promise<void> {
  const { overlay } = group;
  await takeWhole(tx, group, events);
  const known = [...drafts.map(({ held }) => held), ...events.flatMap((event) => atNoVisit(event, overlay))];
  const ids = [...new Set(known.filter(isHandedIn).map(({ state }) => state.id))];
  if (ids.length === 0) return;
  const flags = ids.flatMap((id) => handedInFlagIds(tx.firm, id));
  await loadMissing(tx, group, flags);
  take(group, await heldUnder(tx, flags, ['flag-review']));
  const stored = flags.flatMap((id) => overlay.get(id) ?? []);
  const subjects = ids.flatMap((id) => overlay.get(id) ?? []);
  writeDerived(
    group,
    stored,
    subjects.flatMap((held) => handedInDerived(tx.firm, held, overlay)),
  );
}
