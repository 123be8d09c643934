import type { Captured } from '../../client/capture.ts';
import { checkAll, type Fields, writableKind } from '../../client/check-fields.ts';
import { READING_QUANTITY_NAMES } from '../../protocol/kinds/reading.ts';
import { VISIT_OUTCOMES } from '../../protocol/kinds/visit.ts';
import type { Observed, RecordState } from '../../protocol/record.ts';
import { CrewError } from './crew-error.ts';
import { field, live, theCrew, theEvent, theWell } from './find.ts';
import type { Crew } from './open-crew.ts';

/** Short names for what is typed many times a day. */
export const SHORT_NAMES: Readonly<Record<string, (typeof READING_QUANTITY_NAMES)[number]>> = {
  ph: 'ph',
  temp: 'temperatureC',
  tempf: 'temperatureF',
  sc: 'specificConductanceUsPerCm',
  do: 'dissolvedOxygenMgPerL',
  'do%': 'dissolvedOxygenPercent',
  orp: 'orpMv',
  ntu: 'turbidityNtu',
  fnu: 'turbidityFnu',
  level: 'depthToWaterFt',
  flow: 'flowMlPerMin',
  purged: 'purgedMl',
};

export const STATES = ['dry', 'flowing', 'frozen', 'obstructed'];

function quantity(pair: string): [string, string] {
  const at = pair.indexOf('=');
  const [name, value] = [pair.slice(0, at), pair.slice(at + 1)];
  const full = READING_QUANTITY_NAMES.find((one) => one === name) ?? SHORT_NAMES[name.toLowerCase()];
  if (at > 0 && full) return [full, value];
  const names = Object.keys(SHORT_NAMES).join(', ');
  throw new CrewError(`"${pair}" is no figure of a reading: give ph=7.10 and so on, with one of ${names}`);
}

export function quantities(pairs: readonly string[]): Record<string, string> {
  if (pairs.length === 0) throw new CrewError('a reading without a figure: give ph=7.10 temp=15.2 and so on');
  return Object.fromEntries(pairs.map(quantity));
}

export async function observedNow(crew: Crew): Promise<Observed> {
  const { person } = await crew.client.identity();
  const { reads } = crew.settings;
  if (person === null) throw new CrewError('nobody is at this device: crew who --reads INITIALS --writes INITIALS');
  return crew.client.observed(reads === null ? {} : { readBy: reads });
}

function newest(records: readonly RecordState[]): RecordState | undefined {
  return records.toSorted((a, b) => (a.id < b.id ? -1 : 1)).at(-1);
}

/** The visit of this crew that goes on at a well. */
async function openVisit(crew: Crew, event: RecordState, well: RecordState): Promise<RecordState | undefined> {
  const own = await theCrew(crew);
  const here = (await live(crew, 'visit')).filter(
    (visit) =>
      field(visit, 'event') === event.id &&
      field(visit, 'well') === well.id &&
      field(visit, 'crew') === own &&
      field(visit, 'left') === '',
  );
  return newest(here);
}

async function openPurge(crew: Crew, visit: string): Promise<string | undefined> {
  const purges = (await live(crew, 'purge')).filter((purge) => field(purge, 'visit') === visit);
  return newest(purges.filter((purge) => field(purge, 'ended') === ''))?.id;
}

interface At {
  readonly event: RecordState;
  readonly well: RecordState;
}

async function at(crew: Crew, wellName: string): Promise<At> {
  const event = await theEvent(crew);
  return { event, well: await theWell(crew, event, wellName) };
}

/** Goes on with the visit there, or begins one. What was begun for gauging becomes a purging visit once water moves. */
async function visitAt(crew: Crew, { event, well }: At, method: string): Promise<string> {
  const open = await openVisit(crew, event, well);
  if (open) {
    const isMore = method !== 'gauging' && field(open, 'method') === 'gauging';
    if (isMore) await crew.client.amend('visit', open.id, { method });
    return open.id;
  }
  const arrived = crew.client.context.time.wall();
  const set = { event: event.id, well: well.id, crew: await theCrew(crew), method, arrived };
  return (await crew.client.record('visit', set)).id;
}

async function purgeAt(crew: Crew, place: At, method: string): Promise<string> {
  const visit = await visitAt(crew, place, method);
  const open = await openPurge(crew, visit);
  return open ?? (await crew.client.record('purge', { visit, began: crew.client.context.time.wall() })).id;
}

/** Before a visit is begun for it: a slip of the finger must not leave an empty visit. Any id stands for the parent. */
function mustBeReadable(kind: string, set: Fields): void {
  checkAll(writableKind(kind), set);
}

export interface LevelOptions {
  readonly purpose?: string | undefined;
  /** The pump is about to go in, or is in: the level belongs to a purge. */
  readonly forPurge?: boolean;
}

export async function enterLevel(crew: Crew, wellName: string, given: string, options: LevelOptions = {}) {
  const { purpose, forPurge = false } = options;
  const observed = await observedNow(crew);
  const place = await at(crew, wellName);
  const found = STATES.includes(given) ? { state: given } : { state: 'measured', depthToWaterFt: given };
  mustBeReadable('water-level', { visit: place.event.id, purpose: purpose ?? 'synoptic', ...found, observed });
  const visit = await visitAt(crew, place, forPurge ? 'low-flow' : 'gauging');
  const before = forPurge ? 'before-purge' : 'synoptic';
  const usual = (await openPurge(crew, visit)) === undefined ? before : 'pumping';
  return crew.client.record('water-level', { visit, purpose: purpose ?? usual, ...found, observed });
}

export async function enterReading(crew: Crew, wellName: string, pairs: readonly string[], method = 'low-flow') {
  const figures = quantities(pairs);
  const observed = await observedNow(crew);
  const place = await at(crew, wellName);
  mustBeReadable('reading', { purge: place.event.id, ...figures, observed });
  const purge = await purgeAt(crew, place, method);
  return crew.client.record('reading', { purge, ...figures, observed });
}

export async function enterCall(crew: Crew, wellName: string, decision: string, remark?: string): Promise<Captured> {
  const observed = await observedNow(crew);
  const { event, well } = await at(crew, wellName);
  const visit = await openVisit(crew, event, well);
  const purge = visit && (await openPurge(crew, visit.id));
  if (!purge)
    throw new CrewError(`nothing is being purged at ${wellName}, so there is nothing to call: enter a reading first`);
  return crew.client.record('call', { purge, decision, remark, observed });
}

export async function leave(crew: Crew, wellName: string, outcome: string, reason?: string): Promise<Captured> {
  const { event, well } = await at(crew, wellName);
  const visit = await openVisit(crew, event, well);
  if (!visit) throw new CrewError(`no visit of this crew goes on at ${wellName}`);
  if (!(VISIT_OUTCOMES as readonly string[]).includes(outcome)) {
    throw new CrewError(`"${outcome}" is no outcome of a visit: give one of ${VISIT_OUTCOMES.join(', ')}`);
  }
  const now = crew.client.context.time.wall();
  // The purge first: cut off between the two, the visit still goes on and can be left once more.
  const purge = await openPurge(crew, visit.id);
  if (purge) await crew.client.amend('purge', purge, { ended: now });
  return crew.client.amend('visit', visit.id, { left: now, outcome, outcomeReason: reason });
}
