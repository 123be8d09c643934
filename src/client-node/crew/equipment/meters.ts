import { CHECK_PARAMETERS, type CheckParameter } from '../../../catalog/calibration/check-limit-set.ts';
import { PARAMETER_NAMES } from '../../../catalog/parameters.ts';
import type { Captured } from '../../../client/capture.ts';
import { equipmentHere } from '../../../client/equipment/equipment-here.ts';
import { checkHere, meterHere } from '../../../client/equipment/meter-here.ts';
import type { RecordState } from '../../../protocol/record.ts';
import { parameterOf } from '../../../rules/calibration/check.ts';
import { gearOfUnit } from '../../../rules/decon/gear-of-unit.ts';
import type { UnitType } from '../../../rules/equipment/equipment-records.ts';
import { CrewError } from '../crew-error.ts';
import { observedNow } from '../enter.ts';
import { field, theEvent } from '../find.ts';
import { kept } from '../kept.ts';
import type { Crew } from '../open-crew.ts';
import { pairsIn } from '../pairs.ts';
import { mustBeReady } from '../ready.ts';
import { bufferNamed, keysOf } from './check-keys.ts';
import { theUnit } from './the-unit.ts';

/** Short names for what is typed every morning. */
const PARAMETER_WORDS: Readonly<Record<string, CheckParameter>> = {
  ph: 'ph',
  sc: 'specific-conductance',
  do: 'dissolved-oxygen',
  orp: 'orp',
  ntu: 'turbidity',
  fnu: 'turbidity',
  temp: 'temperature',
  zero: 'zero-oxygen',
};

const PAIRS: Readonly<Record<string, string>> = {
  std: 'nominal',
  'std-at-temp': 'valueAtTemperature',
  temp: 'temperatureC',
  buffer: 'buffer',
  kcl: 'conductivityStandard',
  shown: 'conductanceShown',
  zobell: 'zobell',
  electrode: 'referenceElectrode',
  sc: 'specificConductanceUsPerCm',
  mmhg: 'stationPressureMmHg',
  hpa: 'stationPressureHpa',
  inhg: 'stationPressureInHg',
  altft: 'altitudeFt',
  altm: 'altitudeM',
  lot: 'standardLot',
  expires: 'standardExpires',
};

export const CHECK_USAGE =
  'check METER ph|sc|do|orp|ntu|temp|zero READING [temp=20.1 lot=..] [--calibrated] [--end], with the standard: buffer=7 for ph, std= for sc, ntu and temp, mmhg= or altft= for do, zobell= electrode= for orp';

function parameterIn(word: string): CheckParameter | undefined {
  const small = word.toLowerCase();
  if (Object.hasOwn(PARAMETER_WORDS, small)) return PARAMETER_WORDS[small];
  return CHECK_PARAMETERS.find((one) => one === small);
}

export interface CheckFlags {
  readonly isCalibration: boolean;
  readonly isEnd: boolean;
}

/** Before it was read at the first well of the day is its start; the end is said. */
async function partOfDay(crew: Crew, meter: string, day: string, isEnd: boolean): Promise<'start' | 'mid' | 'end'> {
  if (isEnd) return 'end';
  const { facts } = await equipmentHere(crew.client);
  const wasRead = (facts.index.lines.get(meter)?.contacts ?? []).some(({ from }) => from.at.slice(0, 10) === day);
  return wasRead ? 'mid' : 'start';
}

/** What a check says by itself, and then whether the sensor may be used: of one that failed that is said once. */
async function sayResult(crew: Crew, meter: string, check: Captured, parameter: CheckParameter): Promise<void> {
  const event = (await theEvent(crew)).id;
  const all = await equipmentHere(crew.client);
  const result = checkHere(all, check.id, event);
  if (result?.outcome === 'pass') crew.say(`passed    ${result.sentence}`);
  if (result?.outcome === 'cannot-tell' || result?.outcome === 'no-limit') crew.say(`missing   ${result.sentence}`);
  if (result?.outcome === 'cannot-tell') crew.say(`          ${keysOf(parameter)}`);
  if (result?.outcome === 'cannot-tell')
    crew.say(`          crew void ${check.sequence} --reason incomplete, and check again with all of it`);
  for (const caution of result?.cautions ?? []) crew.say(`mind      ${caution}`);
  const now = crew.client.context.time.wall();
  const told = meterHere(all, { meter, event, now, parameter: parameterOf({ parameter }) });
  for (const { usable, reasons } of told?.sensors ?? [])
    for (const reason of reasons) crew.say(`${usable ? 'usable    ' : 'NOT YET   '}${reason}`);
  if (told?.usable === null) for (const reason of told.reasons) crew.say(`          ${reason}`);
}

/** A slip of the finger; the record itself could be kept. */
function mustBeMeter(unit: RecordState, label: string): void {
  const type = field(unit, 'type');
  if (type === 'other' || gearOfUnit(type as UnitType) === 'meter') return;
  throw new CrewError(
    `${label} is a ${type.replaceAll('-', ' ')}, no meter: it has no sensor to check. crew units --all lists the meters`,
  );
}

function mustSayEnough(
  label: string,
  [what, reading, ...more]: readonly string[],
  { isCalibration }: CheckFlags,
): void {
  if (more.length > 0) throw new CrewError(`"${more.join(' ')}" means nothing behind the reading: crew ${CHECK_USAGE}`);
  if (reading === undefined && !isCalibration)
    throw new CrewError(`what did ${label} show for ${what} in the standard? crew ${CHECK_USAGE}`);
}

export async function checkMeter(crew: Crew, given: readonly string[], flags: CheckFlags): Promise<void> {
  const { words, pair } = pairsIn(given, Object.keys(PAIRS));
  await mustBeReady(crew);
  const { unit, label, rest } = await theUnit(crew, words, CHECK_USAGE);
  mustBeMeter(unit, label);
  const [what = '', reading] = rest;
  const parameter = parameterIn(what);
  if (parameter === undefined)
    throw new CrewError(
      `what of ${label} was checked? ${Object.keys(PARAMETER_WORDS).join(', ')}: crew ${CHECK_USAGE}`,
    );
  mustSayEnough(label, rest, flags);
  const observed = await observedNow(crew);
  const standard = Object.fromEntries(Object.entries(PAIRS).map(([name, name2]) => [name2, pair(name)]));
  const unitShown = { ntu: 'NTU', fnu: 'FNU' }[what.toLowerCase()];
  const set = {
    unit: unit.id,
    parameter,
    act: flags.isCalibration ? 'calibrated' : 'checked',
    part: await partOfDay(crew, unit.id, observed.at.slice(0, 10), flags.isEnd),
    reading,
    turbidityUnit: unitShown,
    ...standard,
    buffer: bufferNamed(pair('buffer')),
    observed,
  };
  const check = await kept(crew, crew.client.record('calibration-check', set));
  const expires = pair('expires');
  if (expires !== undefined && expires < observed.at.slice(0, 10))
    crew.say(`question  The standard expired on ${expires}: take one in date, and check again.`);
  await sayResult(crew, unit.id, check, parameter);
}

/** May it be used now, sensor by sensor. */
export async function showMeter(crew: Crew, words: readonly string[]): Promise<void> {
  const { unit, label } = await theUnit(crew, words, 'meter METER');
  const event = (await theEvent(crew)).id;
  const now = crew.client.context.time.wall();
  const told = meterHere(await equipmentHere(crew.client), { meter: unit.id, event, now });
  if (!told) return;
  const [answer, because] =
    told.usable === null
      ? ['nobody asks', told.reasons]
      : [told.usable ? 'yes' : 'no', told.sensors.length === 0 ? told.reasons : []];
  crew.say(`${label}, may it be used now (${now.slice(11, 16)})? ${answer}`);
  for (const reason of because) crew.say(`  ${reason}`);
  for (const { parameter, usable, reasons, cautions, until } of told.sensors) {
    crew.say(`  ${usable ? 'yes' : 'NO '} ${PARAMETER_NAMES[parameter].name.padEnd(20)} ${reasons.join(' ')}`);
    if (until !== null) crew.say(`      vouched for until ${new Date(until).toLocaleString('sv').slice(0, 16)}`);
    for (const caution of cautions) crew.say(`      mind: ${caution}`);
  }
  if (told.usable === false) crew.say('  A reading that you make nevertheless is kept, and asked about.');
}
