import { type Refusal, refuse } from '../refusal.ts';

/** Up to here n! is a whole number that a binary number holds without loss. */
export const EXACT_UP_TO = 18;

/** Multiplies a row of counts by 1 + q + ... + q^(width - 1): one more value can be put in `width` places. */
function spread(counts: readonly number[], width: number): number[] {
  return Array.from({ length: counts.length + width - 1 }, (_, at) =>
    counts.slice(Math.max(0, at - width + 1), at + 1).reduce((sum, count) => sum + count, 0),
  );
}

/** Divides by the same, which leaves no rest here: values that are alike can change places unseen. */
function gather(counts: readonly number[], width: number): number[] {
  const quotient: number[] = [];
  for (const [at, count] of counts.slice(0, counts.length - width + 1).entries()) {
    const before = quotient.slice(Math.max(0, at - width + 1), at).reduce((sum, one) => sum + one, 0);
    quotient.push(count - before);
  }
  return quotient;
}

/** How many orders of the values have 0, 1, 2 ... falling pairs. */
function ordersByFallingPairs(count: number, tieSizes: readonly number[]): number[] {
  let orders = [1];
  for (let width = 2; width <= count; width += 1) orders = spread(orders, width);
  for (const size of tieSizes) for (let width = 2; width <= size; width += 1) orders = gather(orders, width);
  return orders;
}

/**
 * P(S >= s) where every order of the values is as likely as any other: Kendall's exact null distribution, by his
 * recurrence, and with ties by dividing out the orders that cannot be told apart.
 *
 * Source: Kendall 1975, Rank Correlation Methods (recurrence, from memory); Gilbert 1987 uses the exact table up to n =
 * 10. Checked by going through every order of up to 8 values. Limits: 2 to 18 values.
 *
 * @param tieSizes how many values are alike, group by group
 * @example kendallExactTail({ count: 4, tieSizes: [], s: 6 }) // 1/24 = 0.0417
 */
export function kendallExactTail(given: {
  readonly count: number;
  readonly tieSizes: readonly number[];
  readonly s: number;
}): number | Refusal {
  const { count, tieSizes, s } = given;
  if (!Number.isInteger(count) || count < 2 || count > EXACT_UP_TO)
    return refuse(`The exact distribution is for 2 to ${EXACT_UP_TO} values, not ${count}: use the normal one.`);
  const orders = ordersByFallingPairs(count, tieSizes);
  const most = orders.length - 1;
  const all = orders.reduce((sum, number) => sum + number, 0);
  const reached = orders.filter((_, falling) => most - 2 * falling >= s);
  return reached.reduce((sum, number) => sum + number, 0) / all;
}
