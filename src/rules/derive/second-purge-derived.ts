import { byKey } from '../equipment/by-key.ts';
import { secondPurges, type WellRound } from '../flags/second-purge.ts';
import { SECOND_PURGE_RULE } from '../flags/second-purge-rule.ts';
import type { Held, World } from '../held.ts';
import { readable } from '../readable.ts';
import type { Derived } from './derived.ts';
import { flagDerived } from './flag-derived.ts';

/** Whether a stored flag follows from the visits of different crews to one well. */
export function isSecondPurge({ state: { kind, fields } }: Pick<Held, 'state'>): boolean {
  return kind === 'flag' && fields.rule === SECOND_PURGE_RULE.code;
}

/** A well in an event. */
export interface RoundKey {
  readonly event: string;
  readonly well: string;
}

function keyOf({ event, well }: RoundKey): string {
  return `${event} ${well}`;
}

/** Of what names no well or no event, null. */
function keyOfHeld({ event, well }: Held['state']['fields']): string | null {
  return typeof event === 'string' && typeof well === 'string' ? keyOf({ event, well }) : null;
}

/** The rounds that these visits and claims of wells are of, each once. */
export function roundsOf(held: readonly Held[]): readonly RoundKey[] {
  const told = held.filter(({ state }) => state.kind === 'visit' || state.kind === 'well-claim');
  const keys = told.map(({ state: { fields } }) => ({ event: String(fields.event), well: String(fields.well) }));
  return [...new Map(keys.map((key) => [keyOf(key), key])).values()];
}

/** Visits, or claims of wells, under the round that they are of. */
export type ByRound = ReadonlyMap<string, readonly Held[]>;

export function byRound(held: readonly Held[]): ByRound {
  return byKey(held, ({ state }) => keyOfHeld(state.fields));
}

export function inRound(key: RoundKey, grouped: ByRound): readonly Held[] {
  return grouped.get(keyOf(key)) ?? [];
}

/** Whether more than one crew came: else nothing is asked, whatever else is on record. */
export function isShared(visits: readonly Held[]): boolean {
  return new Set(visits.map(({ state }) => state.fields.crew)).size > 1;
}

/** What was stored has the shape of its kind, once it is read as one. */
function states<Kind extends keyof WellRound>(held: readonly Held[]): WellRound[Kind] {
  return held.map(({ state }) => readable(state)) as unknown as WellRound[Kind];
}

/**
 * What is asked at the visits of one well in one event.
 *
 * @param visits all of them, those that were voided among them
 * @param claims all of the well in the event
 */
export function secondPurgesDerived(
  firm: string,
  visits: readonly Held[],
  claims: readonly Held[],
  world: Pick<World, 'get' | 'under'>,
): Derived[] {
  if (!isShared(visits)) return [];
  const under = visits.flatMap(({ state }) => world.under(state.id));
  const ofKind = (kind: string) => under.filter(({ state }) => state.kind === kind);
  const round: WellRound = {
    visits: states<'visits'>(visits),
    setUps: states<'setUps'>(ofKind('pump-set-up')),
    samples: states<'samples'>(ofKind('sample')),
    claims: states<'claims'>(claims),
  };
  const well = world.get(String(visits[0]?.state.fields.well));
  return secondPurges(round, String(well?.state.fields.name)).flatMap((flag) => {
    const visit = visits.find(({ state }) => state.id === flag.subject);
    return visit ? [flagDerived(firm, flag, { subject: visit, visit }, world)] : [];
  });
}
