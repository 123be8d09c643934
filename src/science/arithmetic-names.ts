/**
 * The seven ways in which "within 10 %" is computed in practice; no guidance defines it. For a window x1 ... xn and a
 * tolerance p:
 *
 * - `each-step-of-previous`: every step, as a part of the reading before it
 * - `each-step-of-pair-mean`: every step, as a part of the mean of its two readings
 * - `range-of-mean`: largest minus smallest, as a part of the mean of the window
 * - `band`: some centre c has every reading within c - p c and c + p c
 * - `each-of-mean`: every reading's distance from the mean, as a part of the mean
 * - `earlier-of-last`: every earlier reading's distance from the last, as a part of the last
 * - `later-of-first`: every later reading's distance from the first, as a part of the first
 */
export const PERCENT_ARITHMETICS = [
  'each-step-of-previous',
  'each-step-of-pair-mean',
  'range-of-mean',
  'band',
  'each-of-mean',
  'earlier-of-last',
  'later-of-first',
] as const;
export type PercentArithmetic = (typeof PERCENT_ARITHMETICS)[number];

/**
 * The three ways in which "within 0.1 pH" is computed:
 *
 * - `total-spread`: largest minus smallest is at most 0.1
 * - `band`: some centre has every reading within 0.1 of it, so largest minus smallest is at most 0.2
 * - `each-step`: every step is at most 0.1
 */
export const ABSOLUTE_ARITHMETICS = ['total-spread', 'band', 'each-step'] as const;
export type AbsoluteArithmetic = (typeof ABSOLUTE_ARITHMETICS)[number];
