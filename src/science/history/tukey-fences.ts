import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { type QuartileRule, type Quartiles, quartiles } from './quartiles.ts';

export interface TukeyFences extends Quartiles {
  readonly lowerFence: number;
  readonly upperFence: number;
}

/**
 * Tukey's fences: the quartiles, widened by a multiple of the distance between them. What lies beyond (not on) a fence
 * stands apart from the rest.
 *
 * Source: US EPA, Unified Guidance, EPA 530/R-09-007, 2009, chapter 12 (box plots); Tukey 1977 for 1.5 (from memory).
 * Limits: skewed values, such as concentrations, often want logarithms first, and the caller says so by giving them.
 *
 * @param widening 1.5 usually, 3 for "far out"
 * @example tukeyFences([1, 2, 3, 4, 5], 'linear', 1.5) // -1 and 7
 */
export function tukeyFences(values: readonly number[], rule: QuartileRule, widening: number): TukeyFences | Refusal {
  if (!(widening >= 0)) return refuse(`A widening of ${widening} is no number from 0: 1.5 is usual.`);
  const both = quartiles(values, rule);
  if (isRefusal(both)) return both;
  const reach = widening * (both.upper - both.lower);
  return { ...both, lowerFence: both.lower - reach, upperFence: both.upper + reach };
}

export function beyondFences({ lowerFence, upperFence }: TukeyFences, value: number): boolean {
  return value < lowerFence || value > upperFence;
}
