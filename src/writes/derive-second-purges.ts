import {
  type ByRound,
  byRound,
  inRound,
  isSecondPurge,
  isShared,
  type RoundKey,
  roundsOf,
  secondPurgesDerived,
} from '../rules/derive/second-purge-derived.ts';
import type { Overlay } from '../rules/overlay.ts';
import { claimsOfWells, heldUnder, visitsAtWells } from '../store/write/load-held.ts';
import type { WriteTx } from '../store/write/transaction.ts';
import { writeDerived } from './derive-group.ts';
import { loadMissing, take } from './equipment/load-more.ts';
import type { Group } from './group.ts';

/** What of a visit bears on whether its crew is the second one. */
const BEARING = ['pump-set-up', 'sample'];

/** Where it may have changed which crews purge a well, as it is now and as it was. */
function changedRounds({ drafts, gathered, overlay }: Group): readonly RoundKey[] {
  const written = drafts.flatMap(({ held, before }) => (before ? [held, before] : [held]));
  const bearing = written.filter(({ state }) => BEARING.includes(state.kind)).flatMap(({ visit }) => visit ?? []);
  return roundsOf([...written, ...[...gathered.affected, ...bearing].flatMap((id) => overlay.get(id) ?? [])]);
}

/** Visits that somebody wrote into, or that are affected, were loaded whole before. */
function isWhole({ drafts, gathered }: Group): (visit: string) => boolean {
  const whole = new Set([
    ...gathered.affected,
    ...drafts.flatMap(({ held }) => (held.state.client === null ? [] : (held.visit ?? []))),
  ]);
  return (visit) => whole.has(visit);
}

async function loadShared(tx: WriteTx, group: Group, shared: readonly RoundKey[]): Promise<void> {
  if (shared.length === 0) return;
  const [events, wells] = [shared.map(({ event }) => event), shared.map(({ well }) => well)];
  take(group, await claimsOfWells(tx, events, wells));
  await loadMissing(tx, group, wells);
}

function wantedOf(firm: string, shared: readonly RoundKey[], visits: ByRound, overlay: Overlay) {
  const claims = byRound(overlay.ofKind('well-claim'));
  return shared.flatMap((round) => secondPurgesDerived(firm, inRound(round, visits), inRound(round, claims), overlay));
}

/**
 * Asks at the later visits of wells that two crews purge in one event. The visits of a well are looked up where one of
 * them or a claim of it changes, and what else bears on them only where there is another one.
 */
export async function deriveSecondPurges(tx: WriteTx, group: Group): Promise<void> {
  const rounds = changedRounds(group);
  if (rounds.length === 0) return;
  const { overlay } = group;
  const whole = isWhole(group);
  const [events, wells] = [rounds.map(({ event }) => event), rounds.map(({ well }) => well)];
  take(group, await visitsAtWells(tx, events, wells));
  const atWells = byRound(overlay.ofKind('visit'));
  const visits = rounds.flatMap((round) => inRound(round, atWells)).map(({ state }) => state.id);
  const others = visits.filter((id) => !whole(id));
  if (others.length > 0) take(group, await heldUnder(tx, others, ['flag', ...BEARING]));
  const shared = rounds.filter((round) => isShared(inRound(round, atWells)));
  await loadShared(tx, group, shared);
  const flags = wantedOf(tx.firm, shared, atWells, overlay).map(({ id }) => id);
  if (flags.length > 0) take(group, await heldUnder(tx, flags, ['flag-review']));
  const stored = visits.flatMap((id) => overlay.under(id)).filter(isSecondPurge);
  writeDerived(group, stored, wantedOf(tx.firm, shared, atWells, overlay));
}
