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

/** The rounds that these visits and claims of wells are of, each once. */
export function roundsOf(held: readonly Held[]): readonly RoundKey[] {
  const told = held.filter(({ state }) => state.kind === 'visit' || state.kind === 'well-claim');
  const keys = told.map(({ state: { fields } }) => ({ event: String(fields.event), well: String(fields.well) }));
  return [...new Map(keys.map((key) => [keyOf(key), key])).values()];
}

/** Those of a round, of all visits and claims of wells that are given. */
export function inRound(key: RoundKey, held: readonly Held[]): readonly Held[] {
  return held.filter(({ state: { fields } }) => fields.event === key.event && fields.well === key.well);
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
