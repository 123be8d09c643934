import type { OxygenSaturation } from '../../science/oxygen/oxygen-saturation.ts';
import { WEATHER_SHARE } from '../../science/oxygen/pressure-kind.ts';
import { lastPlace } from '../../science/units/decimal-step.ts';
import { placesText } from '../../science/units/significant-text.ts';
import type { ChemistryFinding } from './chemistry-finding.ts';
import type { ChemistryReading } from './chemistry-reading.ts';
import type { PurgeChemistry } from './purge-chemistry.ts';
import { saturationOfReading } from './saturation-of-reading.ts';

const SOURCE =
  'Benson and Krause 1980 and 1984; the allowance of 3 % of the figure, at least 1 % of saturation, is common practice, no source';

/** The lowest pressure at which wells are sampled, about 11,000 ft, where nothing is known of the station. */
const LOWEST_MMHG = 500;
const HIGHEST_MMHG = 760 * (1 + WEATHER_SHARE);

interface Compared {
  readonly reading: ChemistryReading;
  readonly mgPerL: string;
  readonly percent: string;
  /** What the mg/L amount to, and by how much a percentage may miss it. */
  readonly localPercent: number;
  readonly oneAtmPercent: number;
  readonly allowed: number;
  /** How far the weather may move the percentage of saturation here. */
  readonly weather: number;
}

function halfStep(text: string): number {
  return 10 ** lastPlace(text) / 2;
}

/** Families of solubility, salt and two roundings leave some room. */
function allowance(mgPerL: string, percent: string, saturation: OxygenSaturation): number {
  const ofFigure = (3 * Number(mgPerL)) / saturation.mgPerL;
  return Math.max(1, ofFigure) + (100 * halfStep(mgPerL)) / saturation.mgPerL + halfStep(percent);
}

/** @param weather by which share the pressure may be another than the one taken; 0 where a barometer was read */
function compared(reading: ChemistryReading, pressureMmHg: number, weather = 0): Compared | null {
  const { dissolvedOxygenMgPerL: mgPerL, dissolvedOxygenPercent: percent } = reading;
  if (mgPerL === null || percent === null) return null;
  const saturation = saturationOfReading(reading, pressureMmHg);
  if (saturation === null) return null;
  const localPercent = (100 * Number(mgPerL)) / saturation.mgPerL;
  return {
    reading,
    mgPerL,
    percent,
    localPercent,
    oneAtmPercent: (100 * Number(mgPerL)) / saturation.atOneAtmMgPerL,
    allowed: allowance(mgPerL, percent, saturation),
    weather: weather * localPercent,
  };
}

function isNear(expected: number, percent: string, allowed: number): boolean {
  return Math.abs(Number(percent) - expected) <= allowed;
}

function agreesHere({ localPercent, percent, allowed, weather }: Compared): boolean {
  return isNear(localPercent, percent, allowed + weather);
}

function agreesAtOneAtm({ oneAtmPercent, percent, allowed }: Compared): boolean {
  return isNear(oneAtmPercent, percent, allowed);
}

/** The last reading speaks for all of them. */
function finding(
  { mgPerL, percent }: Compared,
  found: readonly Compared[],
  what: { readonly code: string; readonly expected: string; readonly sentence: string },
): ChemistryFinding {
  return {
    code: what.code,
    certainty: 'sure',
    sentence: what.sentence,
    numbers: [
      { name: 'dissolvedOxygen', value: mgPerL, unit: 'mg/L' },
      { name: 'dissolvedOxygenPercent', value: percent, unit: '%' },
      { name: 'expectedPercent', value: what.expected, unit: '%' },
    ],
    readings: found.map(({ reading }) => reading.id),
    source: SOURCE,
    verified: true,
  };
}

function shown({ reading, mgPerL, percent }: Compared): string {
  return `${mgPerL} mg/L and ${percent} % at ${reading.temperatureC} °C`;
}

function ofOneAtmosphere(found: readonly Compared[]): readonly ChemistryFinding[] {
  const last = found.at(-1);
  if (last === undefined) return [];
  const expected = placesText(last.localPercent, 1);
  return [
    finding(last, found, {
      code: 'percent-of-one-atmosphere',
      expected,
      sentence: `${shown(last)} agree only if the percentage is of saturation under 1 atm; of saturation here it would be ${expected} %. Say which one the meter shows, and see that it has the pressure of the station.`,
    }),
  ];
}

function ofNeither(found: readonly Compared[], how: string): readonly ChemistryFinding[] {
  const last = found.at(-1);
  if (last === undefined) return [];
  const expected = placesText(last.localPercent, 1);
  return [
    finding(last, found, {
      code: 'oxygen-figures-disagree',
      expected,
      sentence: `${shown(last)} do not agree: that content is ${expected} % of saturation here (${how}) and ${placesText(last.oneAtmPercent, 1)} % under 1 atm. Check the pressure and the salinity that the meter was given, and the two figures as written.`,
    }),
  ];
}

/** Without the pressure only a pair is asked about that agrees at no pressure at which wells are sampled. */
function atNoPressure(readings: readonly ChemistryReading[]): readonly ChemistryFinding[] {
  const found = readings.flatMap((reading) => {
    const [high, low] = [compared(reading, LOWEST_MMHG), compared(reading, HIGHEST_MMHG)];
    if (high === null || low === null) return [];
    const percent = Number(low.percent);
    const outside = percent < low.localPercent - low.allowed || percent > high.localPercent + high.allowed;
    return outside ? [{ low, high }] : [];
  });
  const last = found.at(-1);
  if (last === undefined) return [];
  const pairs = found.map(({ low }) => low);
  const expected = `${placesText(last.low.localPercent, 1)} to ${placesText(last.high.localPercent, 1)}`;
  return [
    finding(last.low, pairs, {
      code: 'oxygen-figures-disagree',
      expected,
      sentence: `${shown(last.low)} agree at no pressure between ${LOWEST_MMHG} and ${placesText(HIGHEST_MMHG, 0)} mmHg: that content is ${expected} % of saturation. Check the two figures as written, and what the meter was given.`,
    }),
  ];
}

/** Oxygen in mg/L and in percent that tell of different waters. */
export function oxygenFiguresDisagree({ readings, air }: PurgeChemistry): readonly ChemistryFinding[] {
  if (air === null) return atNoPressure(readings);
  const weather = air.from === 'altitude' ? WEATHER_SHARE : 0;
  const all = readings.flatMap((reading) => compared(reading, air.mmHg, weather) ?? []);
  const missed = all.filter((one) => !agreesHere(one));
  const [oneAtm, neither] = [missed.filter(agreesAtOneAtm), missed.filter((one) => !agreesAtOneAtm(one))];
  return [...ofOneAtmosphere(oneAtm), ...ofNeither(neither, air.how)];
}
