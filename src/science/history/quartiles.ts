import type { Refusal } from '../refusal.ts';
import { atPlace } from './at-place.ts';
import { ascending, unusableRow } from './readable-values.ts';

/** Where a quantile of share p stands in n sorted values, counted from 1. */
const PLACES = {
  /** Type 7, what spreadsheets and most software do unasked. */
  linear: (count: number, share: number) => (count - 1) * share + 1,
  /** Type 5. */
  hazen: (count: number, share: number) => count * share + 0.5,
  /** Type 6. */
  weibull: (count: number, share: number) => (count + 1) * share,
  /** Type 8, recommended by Hyndman and Fan. */
  'median-unbiased': (count: number, share: number) => (count + 1 / 3) * share + 1 / 3,
} as const;

export const QUARTILE_RULES = ['linear', 'hazen', 'weibull', 'median-unbiased'] as const;
export type QuartileRule = (typeof QUARTILE_RULES)[number];

export interface Quartiles {
  readonly rule: QuartileRule;
  readonly lower: number;
  readonly upper: number;
}

function quantile(sorted: readonly number[], share: number, rule: QuartileRule): number {
  const place = Math.min(Math.max(PLACES[rule](sorted.length, share), 1), sorted.length);
  return atPlace(sorted, place);
}

/**
 * Lower and upper quartile by a NAMED rule: between the rules in use the upper quartile of twenty values can differ by
 * half, and what counts as an outlier with it.
 *
 * Source: Hyndman & Fan 1996, Sample quantiles in statistical packages, The American Statistician 50, types 5 to 8 (from
 * memory; checked against a general-purpose library).
 *
 * @example quartiles([1, 2, 3, 4, 5], 'linear') // lower 2, upper 4
 */
export function quartiles(values: readonly number[], rule: QuartileRule): Quartiles | Refusal {
  const unusable = unusableRow(values, 1);
  if (unusable) return unusable;
  const sorted = ascending(values);
  return { rule, lower: quantile(sorted, 0.25, rule), upper: quantile(sorted, 0.75, rule) };
}
