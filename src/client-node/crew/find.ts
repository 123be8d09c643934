import type { RecordState } from '../../protocol/record.ts';
import { CrewError } from './crew-error.ts';
import type { Crew } from './open-crew.ts';

export async function live(crew: Crew, kind: string): Promise<RecordState[]> {
  return (await crew.client.all(kind)).map(({ record }) => record).filter(({ voided }) => voided === null);
}

export function field(record: RecordState | null | undefined, name: string): string {
  const value = record?.fields[name];
  return typeof value === 'string' ? value : '';
}

function named(records: readonly RecordState[], names: readonly string[]): string {
  const known = records.flatMap((record) =>
    names
      .map((name) => field(record, name))
      .filter(Boolean)
      .slice(0, 1),
  );
  return known.length > 0 ? `known are ${known.sort().join(', ')}` : 'none is known here yet: crew sync';
}

function idsOf(records: readonly RecordState[]): string {
  return records.map(({ id }) => id).join(' or ');
}

/** One record by its id or by one of its names, letter case aside. */
export function oneNamed(what: string, records: readonly RecordState[], names: readonly string[], given: string) {
  const wanted = given.toLowerCase();
  const found = records.filter(
    (record) => record.id === wanted || names.some((name) => field(record, name).toLowerCase() === wanted),
  );
  const [only] = found;
  if (only && found.length === 1) return only;
  if (found.length > 1)
    throw new CrewError(`${found.length} have the name "${given}": give the id of the ${what}, ${idsOf(found)}`);
  const alike = records.filter((record) => names.some((name) => field(record, name).toLowerCase().includes(wanted)));
  const which = alike.length > 0 ? `give the whole name; ${named(alike, names)}` : named(records, names);
  throw new CrewError(`there is no one ${what} "${given}": ${which}`);
}

export async function eventNamed(crew: Crew, given: string): Promise<RecordState> {
  return oneNamed('event', await live(crew, 'event'), ['name'], given);
}

/** The event to work in: the one that was chosen, or the only one that is open. */
export async function theEvent(crew: Crew): Promise<RecordState> {
  const events = await live(crew, 'event');
  const { event } = crew.settings;
  if (event !== null) return oneNamed('event', events, ['name'], event);
  const open = events.filter((one) => field(one, 'standing') === 'open');
  const [only] = open;
  if (only && open.length === 1) return only;
  const which = open.length === 0 ? 'no event is open here' : `${open.length} events are open`;
  throw new CrewError(`${which}: choose one with crew event NAME; ${named(events, ['name'])}`);
}

/** By its name, or by a name that somebody else has for it. */
export async function theWell(crew: Crew, event: RecordState, given: string): Promise<RecordState> {
  const wells = (await live(crew, 'well')).filter((well) => field(well, 'site') === field(event, 'site'));
  const isNamed = wells.some((well) => field(well, 'name').toLowerCase() === given.toLowerCase());
  const aliases = isNamed
    ? []
    : (await live(crew, 'well-alias')).filter((alias) => wells.some(({ id }) => id === field(alias, 'well')));
  const meant = new Set(
    aliases
      .filter((alias) => field(alias, 'name').toLowerCase() === given.toLowerCase())
      .map((alias) => field(alias, 'well')),
  );
  const [only] = wells.filter(({ id }) => meant.has(id));
  if (!only || meant.size !== 1) return oneNamed('well', wells, ['name'], given);
  crew.say(`${given} is ${field(only, 'name')} here`);
  return only;
}

export async function theMember(crew: Crew, given: string): Promise<RecordState> {
  const members = (await live(crew, 'member')).filter((member) => field(member, 'standing') === 'active');
  return oneNamed('member', members, ['initials', 'name'], given);
}

/** The crew that carries this device, as the office has it now. */
export async function theCrew(crew: Crew): Promise<string> {
  const device = await crew.client.one(crew.settings.device);
  const id = field(device?.record, 'crew') || crew.settings.crew;
  if (id) return id;
  throw new CrewError('the office has given this device to no crew: ask it to, then crew sync');
}

export async function initials(crew: Crew, member: string | null): Promise<string> {
  if (member === null) return 'nobody';
  const found = await crew.client.one(member);
  return field(found?.record, 'initials') || field(found?.record, 'name') || member;
}
