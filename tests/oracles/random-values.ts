import type { CriteriaSet, Tolerance } from '../../src/catalog/criteria-set.ts';
import type { Parameter } from '../../src/catalog/parameters.ts';
import type { ReadingRecord } from '../../src/rules/assessment/assessment-input.ts';
import type { Chance } from './chance.ts';

type Fields = Partial<ReadingRecord['fields']>;
/** Values of one parameter, one a reading, as decimals. */
type Course = () => string;

/** Centres at which percentages of a few digits are exact: 100 and 3 % are 97 and 103, 200 and 10 % are 180 and 220. */
const CENTRES: Readonly<Record<Parameter, readonly number[]>> = {
  temperature: [1_000, 1_240, 2_000],
  ph: [700, 710, 725],
  'specific-conductance': [10_000, 50_000, 51_200, 9_900],
  'dissolved-oxygen': [50, 45, 200, 241, 100],
  orp: [-8_400, 0, 1_000, 12_000],
  turbidity: [500, 480, 820, 1_000, 100, 2_000],
};

function limitsOf(tolerance: Tolerance): number[] {
  if (tolerance.rule === 'low-value') return [];
  if (tolerance.rule === 'at-most') return [Number(tolerance.limit.value) * 100];
  if ('of' in tolerance) return tolerance.of.flatMap(limitsOf);
  return tolerance.rule === 'absolute' ? [Number(tolerance.within.value) * 100] : [];
}

/** Distances, in hundredths, at which a tolerance decides, with the digits beside them. */
function stepsOf(set: CriteriaSet, parameter: Parameter, centre: number): number[] {
  const criterion = set.criteria.find((one) => one.parameter === parameter);
  const tolerances = criterion?.branches.map(({ tolerance }) => tolerance) ?? [];
  const parts = tolerances.flatMap((one) => ('of' in one ? [...one.of] : [one]));
  const ofPercents = parts.flatMap((one) =>
    one.rule === 'percent' ? [(Number(one.within.value) * centre) / 100] : [],
  );
  const at = [...tolerances.flatMap(limitsOf), ...ofPercents].map(Math.round).map(Math.abs);
  return [0, 0, 1, ...at.flatMap((step) => [step, step - 1, step + 1, step / 2, 2 * step].map(Math.round))];
}

function text(hundredths: number, places: number): string {
  const written = (hundredths / 100).toFixed(places);
  return /^-0(?:\.0*)?$/.test(written) ? written.slice(1) : written;
}

/** A course that stays, wanders, straddles a threshold or drifts. */
export function courseOf(chance: Chance, set: CriteriaSet, parameter: Parameter, calm: boolean): Course {
  const criterion = set.criteria.find((one) => one.parameter === parameter);
  const thresholds = [
    ...(criterion?.branches.flatMap(({ below }) => (below ? [Number(below.value) * 100] : [])) ?? []),
    ...(criterion?.atMost ? [Number(criterion.atMost.value) * 100] : []),
  ];
  const centre = Math.round(
    chance.is(0.4) && thresholds.length > 0 ? chance.one(thresholds) : chance.one(CENTRES[parameter]),
  );
  const steps = stepsOf(set, parameter, centre);
  const places = chance.rarely(0.2, [0, 1, 3], 2);
  const drift = chance.rarely(calm ? 0.05 : 0.3, [-7, 3, 11], 0);
  const moves = calm ? chance.rarely(0.5, [0, 0.3], 0.1) : chance.one([0.1, 0.5, 0.9]);
  let now = centre;
  return () => {
    const near = calm && chance.is(0.6) ? [0, 1] : steps;
    now = chance.is(moves) ? centre + chance.one([-1, 1]) * chance.one(near) : now + drift;
    return text(now, places);
  };
}

const FAR = ['10000000', '9999999.99', '-10000000', '0', '-0.5', '0.00', '123456.789012'];

function fahrenheit(celsius: string): string {
  return (Number(celsius) * 1.8 + 32).toFixed(2).replace(/^-(0(?:\.0*)?)$/, '$1');
}

/** The parameters of a reading from its courses, with what may be missing or wild. */
export function valuesOf(
  chance: Chance,
  courses: Readonly<Record<Parameter, Course>>,
  wild: number,
  saturation: readonly string[],
): Fields {
  const drawn = (parameter: Parameter) => {
    const value = courses[parameter]();
    if (chance.is(wild)) return undefined;
    return chance.is(wild / 8) ? chance.one(FAR) : value;
  };
  const [temperature, turbidity, oxygen] = [drawn('temperature'), drawn('turbidity'), drawn('dissolved-oxygen')];
  const [inF, inFnu] = [chance.is(wild / 3), chance.is(wild / 3)];
  return {
    temperatureC: inF && !chance.is(0.1) ? undefined : temperature,
    temperatureF: temperature !== undefined && inF ? fahrenheit(temperature) : undefined,
    ph: drawn('ph'),
    specificConductanceUsPerCm: drawn('specific-conductance'),
    dissolvedOxygenMgPerL: oxygen,
    dissolvedOxygenPercent: saturation.length === 0 || chance.is(wild) ? undefined : chance.one(saturation),
    orpMv: drawn('orp'),
    turbidityNtu: inFnu && !chance.is(0.1) ? undefined : turbidity,
    turbidityFnu: inFnu ? turbidity : undefined,
  };
}
