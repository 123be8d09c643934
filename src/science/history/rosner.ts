import { type Refusal, refuse } from '../refusal.ts';
import { atPlace } from './at-place.ts';
import { unusableRow } from './readable-values.ts';

export interface RosnerStep {
  /** The value farthest from the mean of those that were left. */
  readonly value: number;
  /** Its distance in standard deviations. */
  readonly ratio: number;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function farthest(values: readonly number[]): RosnerStep {
  const mean = sum(values) / values.length;
  const deviation = Math.sqrt(sum(values.map((value) => (value - mean) ** 2)) / (values.length - 1));
  const value = values.reduce((far, one) => (Math.abs(one - mean) > Math.abs(far - mean) ? one : far));
  return { value, ratio: deviation === 0 ? 0 : Math.abs(value - mean) / deviation };
}

function without(values: readonly number[], value: number): number[] {
  const at = values.indexOf(value);
  return values.filter((_, place) => place !== at);
}

/**
 * Rosner's ratios for up to k suspected values: the farthest in standard deviations, that one taken out, and again.
 *
 * Source: US EPA, Unified Guidance, EPA 530/R-09-007, 2009, Example 12-4. Limits: the others are normal,
 * and the scale decides: in the example two values stand out in ppb and none in logarithms.
 *
 * @param most how many values are suspected, decided before looking
 */
export function rosnerSteps(values: readonly number[], most: number): readonly RosnerStep[] | Refusal {
  const unusable = unusableRow(values, 3);
  if (unusable) return unusable;
  if (!Number.isInteger(most) || most < 1 || most > values.length - 2)
    return refuse(`${most} suspected values of ${values.length} cannot be tested: give 1 to ${values.length - 2}.`);
  const steps: RosnerStep[] = [];
  let left: readonly number[] = values;
  for (let step = 0; step < most; step += 1) {
    const found = farthest(left);
    steps.push(found);
    left = without(left, found.value);
  }
  return steps;
}

/**
 * How many values are outliers: as many as the LAST step whose ratio exceeds its critical value, for one outlier can
 * hide another in the steps before.
 *
 * @param criticals of the table of the plan's edition, step by step
 */
export function rosnerOutliers(steps: readonly RosnerStep[], criticals: readonly number[]): number | Refusal {
  if (criticals.length !== steps.length)
    return refuse(`${criticals.length} critical values for ${steps.length} steps: give one for each.`);
  return steps.findLastIndex((step, at) => step.ratio > atPlace(criticals, at + 1)) + 1;
}
