import { isRefusal } from '../../science/refusal.ts';
import { placesText } from '../../science/units/significant-text.ts';
import type { ChemistryFinding, FindingNumber } from './chemistry-finding.ts';
import type { ChemistryReading } from './chemistry-reading.ts';
import { COMPENSATION_METHODS, COMPENSATIONS, type CompensationMethod, compensationFactor } from './compensation.ts';
import type { PurgeChemistry } from './purge-chemistry.ts';

const SOURCE = 'ISO 7888:1985 / EN 27888 and the linear factors of 1.91 and 2.00 % per °C (computed)';

/** A step smaller than this is noise of the water; the methods differ by more only away from 25 °C. */
const LEAST_STEP = 0.01;
/** How closely a step must fit the methods, and how steady the readings beside it must be. */
const CLOSE = 0.003;

interface Step {
  readonly before: ChemistryReading;
  readonly after: ChemistryReading;
  /** Specific conductance after over that before. */
  readonly ratio: number;
}

function conductance(reading: ChemistryReading | undefined): number | null {
  const text = reading?.specificConductanceUsPerCm ?? null;
  return text === null || Number(text) <= 0 ? null : Number(text);
}

function stepOf(before: ChemistryReading | undefined, after: ChemistryReading | undefined): Step | null {
  const [first, second] = [conductance(before), conductance(after)];
  if (before === undefined || after === undefined || first === null || second === null) return null;
  return { before, after, ratio: second / first };
}

/** By what ratio a change of method moves the specific conductance of unchanged water; 1 where a method says nothing. */
function ratioOf(from: CompensationMethod, to: CompensationMethod, temperatureC: string): number {
  const [old, now] = [compensationFactor(from, temperatureC), compensationFactor(to, temperatureC)];
  return isRefusal(old) || isRefusal(now) ? 1 : now / old;
}

function numbersOf({ before, after, ratio }: Step): readonly FindingNumber[] {
  return [
    { name: 'before', value: before.specificConductanceUsPerCm ?? '', unit: 'µS/cm' },
    { name: 'after', value: after.specificConductanceUsPerCm ?? '', unit: 'µS/cm' },
    { name: 'step', value: placesText(100 * (ratio - 1), 1), unit: '%' },
  ];
}

function finding(step: Step, certainty: ChemistryFinding['certainty'], sentence: string): ChemistryFinding {
  const readings = [step.before.id, step.after.id];
  return {
    code: 'conductance-method-changed',
    certainty,
    sentence,
    numbers: numbersOf(step),
    readings,
    source: SOURCE,
    verified: certainty === 'sure',
  };
}

function methodOf(reading: ChemistryReading, { compensations }: PurgeChemistry): CompensationMethod | undefined {
  return reading.meter === null ? undefined : compensations.get(reading.meter);
}

/** The meters are known to compensate differently. */
function recorded(step: Step, chemistry: PurgeChemistry): ChemistryFinding | null {
  const [from, to] = [methodOf(step.before, chemistry), methodOf(step.after, chemistry)];
  if (from === undefined || to === undefined || from === to) return null;
  const temperatureC = step.after.temperatureC;
  const by =
    temperatureC === null
      ? ''
      : ` At ${temperatureC} °C that alone moves the figure by ${placesText(100 * (ratioOf(from, to, temperatureC) - 1), 1)} %.`;
  return finding(
    step,
    'sure',
    `Specific conductance was compensated by ${COMPENSATIONS[from].name} before and by ${COMPENSATIONS[to].name} after a change of meter.${by} Keep to one method in a purge, or start the window again.`,
  );
}

function isSteady(step: Step | null): boolean {
  return step !== null && Math.abs(step.ratio - 1) <= CLOSE;
}

function fittingPairs({ after, ratio }: Step): readonly string[] {
  const { temperatureC } = after;
  if (temperatureC === null) return [];
  return COMPENSATION_METHODS.flatMap((from) =>
    COMPENSATION_METHODS.flatMap((to) => {
      const expected = ratioOf(from, to, temperatureC);
      const fits = Math.abs(expected - 1) >= LEAST_STEP && Math.abs(ratio / expected - 1) <= CLOSE;
      return fits ? [`${COMPENSATIONS[from].name} to ${COMPENSATIONS[to].name}`] : [];
    }),
  );
}

/** Nothing is recorded, but steady water makes one step, of just the size that a change of method makes. */
function suspected(step: Step, at: number, readings: readonly ChemistryReading[]): ChemistryFinding | null {
  const steady =
    isSteady(stepOf(readings[at - 2], readings[at - 1])) && isSteady(stepOf(readings[at], readings[at + 1]));
  if (!steady) return null;
  const pairs = fittingPairs(step);
  if (pairs.length === 0) return null;
  const [before, after] = [step.before.specificConductanceUsPerCm, step.after.specificConductanceUsPerCm];
  return finding(
    step,
    'likely',
    `Specific conductance steps from ${before} to ${after} µS/cm between steady readings, as a change of compensation from ${pairs.join(' or from ')} does at ${step.after.temperatureC} °C. Look at the setting of the meter.`,
  );
}

/** A change of how conductivity is brought to 25 °C in the middle of a purge: a step of the meter, not of the water. */
export function conductanceMethodChanged(chemistry: PurgeChemistry): readonly ChemistryFinding[] {
  const { readings } = chemistry;
  return readings.flatMap((after, at) => {
    const step = stepOf(readings[at - 1], after);
    return step === null ? [] : (recorded(step, chemistry) ?? suspected(step, at, readings) ?? []);
  });
}
