import type { CriteriaSet } from '../../src/catalog/criteria-set.ts';
import type { Parameter } from '../../src/catalog/parameters.ts';
import type { StabilizationPlan } from '../../src/protocol/event-plan.ts';
import type { ReadingRecord } from '../../src/rules/assessment/assessment-input.ts';
import { compare, dividedBy, type Exact, exact, minus, nearest, size, times, whole } from './exact.ts';

/** What is judged apart: a parameter in its own unit, or oxygen in percent of saturation. */
export type Quantity = Parameter | 'oxygen-saturation';
type Field = Exclude<keyof ReadingRecord['fields'], 'purge' | 'meter' | 'observed' | 'remark' | 'overRange'>;

/** What a reading says of a quantity: nothing, a figure without a value (over range), or a value. */
export type Said =
  | { readonly is: 'missing' }
  | { readonly is: 'over-range'; readonly field: Field }
  | { readonly is: 'value'; readonly field: Field; readonly value: Exact };

const FIELDS: Readonly<Record<Quantity, readonly Field[]>> = {
  temperature: ['temperatureC', 'temperatureF'],
  ph: ['ph'],
  'specific-conductance': ['specificConductanceUsPerCm'],
  'dissolved-oxygen': ['dissolvedOxygenMgPerL'],
  orp: ['orpMv'],
  turbidity: ['turbidityNtu', 'turbidityFnu'],
  'oxygen-saturation': ['dissolvedOxygenPercent'],
};
const TEN_MILLION = whole(10_000_000);

/** Rule A11, from the prose. */
export function said(reading: ReadingRecord, quantity: Quantity, plan: StabilizationPlan): Said {
  const field = FIELDS[quantity].find((name) => reading.fields[name] != null);
  if (field === undefined) return { is: 'missing' };
  const entered = exact(reading.fields[field] ?? '');
  const isListed = reading.fields.overRange?.includes(field) ?? false;
  if (isListed || compare(size(entered), TEN_MILLION) >= 0) return { is: 'over-range', field };
  const roundTo = quantity === 'oxygen-saturation' ? null : plan.parameters?.[quantity]?.roundTo;
  const rounded = roundTo ? nearest(entered, exact(roundTo)) : entered;
  const value = field === 'temperatureF' ? dividedBy(times(minus(rounded, whole(32)), whole(5)), whole(9)) : rounded;
  return { is: 'value', field, value };
}

/** What a set judges: its parameters, and oxygen in percent of saturation where it asks for that too. */
export function quantitiesOf(set: CriteriaSet): readonly Quantity[] {
  return set.criteria.flatMap((criterion): Quantity[] =>
    criterion.orInPercentSaturation ? [criterion.parameter, 'oxygen-saturation'] : [criterion.parameter],
  );
}
