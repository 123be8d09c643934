import type { Fields } from '../../src/client/check-fields.ts';
import type { Observed } from '../../src/protocol/record.ts';
import type { PersonName } from '../firm/people.ts';
import type { WellName } from '../firm/wells.ts';
import { stamp } from './clock.ts';
import type { Phone } from './phone.ts';
import type { Crew, Day, World } from './world.ts';

/** A crew at a well, with the phone that is typed into and who reads the instruments. */
export interface Stop {
  readonly world: World;
  readonly day: Day;
  readonly crew: Crew;
  readonly phone: Phone;
  readonly well: WellName;
  readonly reader: PersonName;
  /** Written on a sheet and typed later: the times are those of the sheet, and nobody waits for them. */
  readonly paper: boolean;
  readonly visit: string;
  readonly claim: string;
  readonly pump: string | null;
  purge: string | null;
  readonly readings: string[];
}

/** Waits until the time has come; what is typed from paper is past already. */
export async function reach({ world, paper }: Pick<Stop, 'world' | 'paper'>, ms: number): Promise<void> {
  if (!paper) await world.agenda.until(ms);
}

/** A time that goes into a field of its own: the phone's, or the one on the sheet. */
export function timeOf({ world, phone, paper }: Pick<Stop, 'world' | 'phone' | 'paper'>, ms: number): string {
  return paper ? stamp(ms, world.zone) : phone.clock.wall();
}

export function observedAt(stop: Pick<Stop, 'world' | 'phone' | 'paper' | 'reader'>, ms: number): Promise<Observed> {
  const { world, phone, paper, reader } = stop;
  const readBy = world.id('member', reader);
  if (!paper) return phone.client.observed({ readBy });
  return phone.client.observed({ readBy, at: stamp(ms, world.zone), captured: 'from-paper' });
}

/** Notes what was observed at the time given, and gives the id of the record. */
export async function note(stop: Stop, ms: number, kind: string, fields: Fields): Promise<string> {
  await reach(stop, ms);
  const observed = await observedAt(stop, ms);
  const { id } = await stop.phone.client.record(kind, { ...fields, observed });
  return id;
}

export interface Arrival {
  readonly well: WellName;
  readonly at: string;
  readonly phone?: Phone;
  readonly reader?: PersonName;
  readonly method?: 'low-flow' | 'flowing' | 'gauging';
  /** The label of the pump; null where none is needed, the crew's own if missing. */
  readonly pump?: string | null;
  readonly paper?: true;
}

/** The crew takes the well and begins a visit. */
export async function arrive(world: World, day: Day, crew: Crew, arrival: Arrival): Promise<Stop> {
  const { well, at, phone = crew.phones[0], reader = crew.people[1], method = 'low-flow' } = arrival;
  const paper = arrival.paper ?? false;
  const pump = arrival.pump === undefined ? crew.kit.pump : arrival.pump;
  const ms = day.ms(at);
  const here = { world, phone, paper, reader };
  await reach(here, ms);
  const place = { event: world.event, well: world.id('well', well), crew: world.id('crew', crew.name) };
  const taken = pump === null ? {} : { pump: world.id('unit', pump) };
  const observed = await observedAt(here, ms);
  const from = timeOf(here, ms);
  const claim = await phone.client.record('well-claim', { ...place, ...taken, from, observed });
  const visit = await phone.client.record('visit', { ...place, method, arrived: from });
  return { ...here, day, crew, well, pump, visit: visit.id, claim: claim.id, purge: null, readings: [] };
}

export interface Ending {
  readonly outcome: string;
  readonly reason?: string;
}

/** The crew says how the visit ended, gives the well back and goes. */
export async function leave(stop: Stop, ms: number, { outcome, reason }: Ending): Promise<void> {
  await reach(stop, ms);
  const { client } = stop.phone;
  const left = timeOf(stop, ms);
  const why = reason === undefined ? {} : { outcomeReason: reason };
  if (stop.purge !== null) await client.amend('purge', stop.purge, { ended: left });
  await client.amend('visit', stop.visit, { left, outcome, ...why });
  await client.amend('well-claim', stop.claim, { until: left });
}
