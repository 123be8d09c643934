import type { Captured } from '../../client/capture.ts';
import { checkAll, type Fields, writableKind } from '../../client/check-fields.ts';
import { READING_QUANTITY_NAMES } from '../../protocol/kinds/reading.ts';
import { VISIT_OUTCOMES } from '../../protocol/kinds/visit.ts';
import type { Observed } from '../../protocol/record.ts';
import { instantMs } from '../../science/instant-ms.ts';
import { CrewError } from './crew-error.ts';
import { askForMeter } from './equipment/ask-for-meter.ts';
import { usualUnit } from './equipment/usual-unit.ts';
import { field, live } from './find.ts';
import type { Crew } from './open-crew.ts';
import { onceEach } from './pairs.ts';
import { mustBeReady } from './ready.ts';
import { whenSeen } from './time-of-day.ts';
import { at, openPurge, openVisit, purgeAt, visitAt } from './visit-here.ts';

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

/** The field that a figure of a reading goes into, by its whole or its short name. */
export function quantityName(name: string): string | undefined {
  return READING_QUANTITY_NAMES.find((one) => one === name) ?? SHORT_NAMES[name.toLowerCase()];
}

function quantity(pair: string): [string, string] {
  const at = pair.indexOf('=');
  const [name, value] = [pair.slice(0, at), pair.slice(at + 1)];
  const full = quantityName(name);
  if (at > 0 && full) return [full, value];
  const names = Object.keys(SHORT_NAMES).join(', ');
  throw new CrewError(`"${pair}" is no figure of a reading: give ph=7.10 and so on, with one of ${names}`);
}

export function quantities(pairs: readonly string[]): Record<string, string> {
  if (pairs.length === 0) throw new CrewError('a reading without a figure: give ph=7.10 temp=15.2 and so on');
  return onceEach(pairs.map(quantity));
}

export async function observedNow(crew: Crew): Promise<Observed> {
  const { person } = await crew.client.identity();
  const { reads } = crew.settings;
  if (person === null) throw new CrewError('nobody is at this device: crew who --reads INITIALS --writes INITIALS');
  const when = crew.seenAt === null ? {} : { at: crew.seenAt, captured: 'same-day' as const };
  return crew.client.observed({ ...when, ...(reads === null ? {} : { readBy: reads }) });
}

/** Before a visit is begun for it: a slip of the finger must not leave an empty visit. Any id stands for the parent. */
function mustBeReadable(kind: string, set: Fields): void {
  checkAll(writableKind(kind), set);
}

const PURGING = ['low-flow', 'volume', 'dry-well'];

export interface LevelOptions {
  readonly purpose?: string | undefined;
  /** The pump is about to go in, or is in: the level belongs to a purge. */
  readonly forPurge?: boolean;
  readonly again?: boolean;
}

/** What a level is for, where nobody says: of a round, before the pump runs, or while it does. */
async function usualPurpose(crew: Crew, visit: string): Promise<string> {
  const purge = await openPurge(crew, visit);
  const readings = (await live(crew, 'reading')).filter((reading) => purge && field(reading, 'purge') === purge);
  if (readings.length > 0) return 'pumping';
  const method = field((await crew.client.one(visit))?.record, 'method');
  return PURGING.includes(method) ? 'before-purge' : 'synoptic';
}

/** A level that is read while water runs is no level before it, whatever it is called: drawdown is counted from it. */
async function askWhetherBefore(crew: Crew, visit: string, at: string, { sequence }: Captured): Promise<void> {
  const began = (await live(crew, 'purge'))
    .filter((purge) => field(purge, 'visit') === visit)
    .map((purge) => field(purge, 'began'))
    .toSorted((a, b) => instantMs(a) - instantMs(b))[0];
  if (began === undefined || instantMs(began) > instantMs(at)) return;
  crew.say(
    `question  The purge here began at ${began.slice(11, 16)}, and this level is of ${at.slice(11, 16)}: was it read before the pump ran?`,
  );
  crew.say(`          crew correct ${sequence} at=HH:MM --reason TEXT says when; else purpose=pumping in its place`);
}

export async function enterLevel(crew: Crew, wellName: string, given: string, options: LevelOptions = {}) {
  const { purpose, forPurge = false, again = false } = options;
  await mustBeReady(crew);
  const observed = await observedNow(crew);
  const place = await at(crew, wellName);
  const found = STATES.includes(given) ? { state: given } : { state: 'measured', depthToWaterFt: given };
  mustBeReadable('water-level', { visit: place.event.id, purpose: purpose ?? 'synoptic', ...found, observed });
  const visit = await visitAt(crew, place, { method: forPurge ? 'low-flow' : 'gauging', again });
  const taken = purpose ?? (await usualPurpose(crew, visit));
  const tape = found.state === 'measured' ? await usualUnit(crew, 'water-level-tape') : undefined;
  const captured = await crew.client.record('water-level', { visit, purpose: taken, ...found, tape, observed });
  if (taken === 'before-purge') await askWhetherBefore(crew, visit, observed.at, captured);
  if (purpose === undefined) crew.say(`taken as a level for: ${taken} (--purpose says otherwise)`);
  return captured;
}

export interface ReadingOptions {
  readonly method?: string | undefined;
  readonly again?: boolean;
}

export async function enterReading(
  crew: Crew,
  wellName: string,
  pairs: readonly string[],
  { method = 'low-flow', again = false }: ReadingOptions = {},
) {
  const figures = quantities(pairs);
  await mustBeReady(crew);
  const observed = await observedNow(crew);
  const place = await at(crew, wellName);
  mustBeReadable('reading', { purge: place.event.id, ...figures, observed });
  const purge = await purgeAt(crew, place, { method, again });
  const meter = await usualUnit(crew, 'multi-parameter-meter');
  await askForMeter(crew, purge, meter);
  return crew.client.record('reading', { purge, ...figures, meter, observed });
}

export async function enterCall(crew: Crew, wellName: string, decision: string, remark?: string): Promise<Captured> {
  await mustBeReady(crew);
  const observed = await observedNow(crew);
  const place = await at(crew, wellName);
  const visit = await openVisit(crew, place);
  const purge = visit && (await openPurge(crew, visit.id));
  if (!purge)
    throw new CrewError(`nothing is being purged at ${wellName}, so there is nothing to call: enter a reading first`);
  mustBeReadable('call', { purge, decision, remark, observed });
  return crew.client.record('call', { purge, decision, remark, observed });
}

export async function leave(crew: Crew, wellName: string, outcome: string, reason?: string): Promise<Captured> {
  const visit = await openVisit(crew, await at(crew, wellName));
  if (!visit) throw new CrewError(`no visit of this crew goes on at ${wellName}`);
  if (!(VISIT_OUTCOMES as readonly string[]).includes(outcome)) {
    throw new CrewError(`"${outcome}" is no outcome of a visit: give one of ${VISIT_OUTCOMES.join(', ')}`);
  }
  const now = whenSeen(crew);
  // The purge first: cut off between the two, the visit still goes on and can be left once more.
  const purge = await openPurge(crew, visit.id);
  if (purge) await crew.client.amend('purge', purge, { ended: now });
  return crew.client.amend('visit', visit.id, { left: now, outcome, outcomeReason: reason });
}
