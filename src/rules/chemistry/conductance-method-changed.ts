import { isRefusal, type Refusal } from '../../science/refusal.ts';
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

interface Conductance {
  readonly reading: ChemistryReading;
  readonly text: string;
  readonly usPerCm: number;
}

interface Step {
  readonly before: Conductance;
  readonly after: Conductance;
  /** Specific conductance after over that before. */
  readonly ratio: number;
}

/** A conductance of zero makes no ratio: a sensor in the air. */
function conductance(reading: ChemistryReading): Conductance | null {
  const text = reading.specificConductanceUsPerCm;
  const usPerCm = Number(text ?? 0);
  return text === null || usPerCm <= 0 ? null : { reading, text, usPerCm };
}

function stepBetween(before: Conductance | null, after: Conductance | null): Step | null {
  if (before === null || after === null) return null;
  return { before, after, ratio: after.usPerCm / before.usPerCm };
}

type Conductances = readonly (Conductance | null)[];

function stepAt(all: Conductances, at: number): Step | null {
  return stepBetween(all[at - 1] ?? null, all[at] ?? null);
}

/** By what ratio a change of method moves the specific conductance of unchanged water; 1 where a method says nothing. */
function ratioOf(old: number | Refusal, now: number | Refusal): number {
  return isRefusal(old) || isRefusal(now) ? 1 : now / old;
}

function numbersOf({ before, after, ratio }: Step): readonly FindingNumber[] {
  return [
    { name: 'before', value: before.text, unit: 'µS/cm' },
    { name: 'after', value: after.text, unit: 'µS/cm' },
    { name: 'step', value: placesText(100 * (ratio - 1), 1), unit: '%' },
  ];
}

function finding(step: Step, certainty: ChemistryFinding['certainty'], sentence: string): ChemistryFinding {
  const readings = [step.before.reading.id, step.after.reading.id];
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

function movedText(from: CompensationMethod, to: CompensationMethod, { after }: Step): string {
  const { temperatureC } = after.reading;
  if (temperatureC === null) return '';
  const ratio = ratioOf(compensationFactor(from, temperatureC), compensationFactor(to, temperatureC));
  return ` At ${temperatureC} °C that alone moves the figure by ${placesText(100 * (ratio - 1), 1)} %.`;
}

/** The meters are known to compensate differently. */
function recorded(step: Step, chemistry: PurgeChemistry): ChemistryFinding | null {
  const [from, to] = [methodOf(step.before.reading, chemistry), methodOf(step.after.reading, chemistry)];
  if (from === undefined || to === undefined || from === to) return null;
  return finding(
    step,
    'sure',
    `Specific conductance was compensated by ${COMPENSATIONS[from].name} before and by ${COMPENSATIONS[to].name} after a change of meter.${movedText(from, to, step)} Keep to one method in a purge, or start the window again.`,
  );
}

/** No change of method makes a smaller step, however closely it fits: most steps of a purge end here. */
function isLargeEnough({ ratio }: Step): boolean {
  return ratio <= (1 - LEAST_STEP) * (1 + CLOSE) || ratio >= (1 + LEAST_STEP) * (1 - CLOSE);
}

function isSteady(step: Step | null): boolean {
  return step !== null && Math.abs(step.ratio - 1) <= CLOSE;
}

function fittingPairs({ after, ratio }: Step): readonly string[] {
  const { temperatureC } = after.reading;
  if (temperatureC === null) return [];
  const factors = COMPENSATION_METHODS.map((method) => ({ method, factor: compensationFactor(method, temperatureC) }));
  return factors.flatMap((from) =>
    factors.flatMap((to) => {
      const expected = ratioOf(from.factor, to.factor);
      const fits = Math.abs(expected - 1) >= LEAST_STEP && Math.abs(ratio / expected - 1) <= CLOSE;
      return fits ? [`${COMPENSATIONS[from.method].name} to ${COMPENSATIONS[to.method].name}`] : [];
    }),
  );
}

/** Nothing is recorded, but steady water makes one step, of just the size that a change of method makes. */
function suspected(step: Step, at: number, all: Conductances): ChemistryFinding | null {
  if (!isLargeEnough(step) || !isSteady(stepAt(all, at - 1)) || !isSteady(stepAt(all, at + 1))) return null;
  const pairs = fittingPairs(step);
  if (pairs.length === 0) return null;
  return finding(
    step,
    'likely',
    `Specific conductance steps from ${step.before.text} to ${step.after.text} µS/cm between steady readings, as a change of compensation from ${pairs.join(' or from ')} does at ${step.after.reading.temperatureC} °C. Look at the setting of the meter.`,
  );
}

/** A change of how conductivity is brought to 25 °C in the middle of a purge: a step of the meter, not of the water. */
export function conductanceMethodChanged(chemistry: PurgeChemistry): readonly ChemistryFinding[] {
  const all = chemistry.readings.map(conductance);
  return all.flatMap((_, at) => {
    const step = stepAt(all, at);
    return step === null ? [] : (recorded(step, chemistry) ?? suspected(step, at, all) ?? []);
  });
}
