import { Decimal } from 'decimal.js';
import type { PercentArithmetic } from '../../src/science/arithmetic-names.ts';

const Precise = Decimal.clone({ precision: 60 });

type Rule = (x: readonly Decimal[]) => readonly Decimal[];

const steps = (x: readonly Decimal[]) => x.slice(1).map((now, index) => ({ now, before: x[index] ?? now }));
const mean = (x: readonly Decimal[]) => Precise.sum(...x).div(x.length);
const first = (x: readonly Decimal[]) => x[0] ?? new Precise(0);
const last = (x: readonly Decimal[]) => x.at(-1) ?? new Precise(0);
const spread = (x: readonly Decimal[]) => Precise.max(...x).minus(Precise.min(...x));
const middle = (x: readonly Decimal[]) =>
  Precise.max(...x)
    .plus(Precise.min(...x))
    .div(2);

/** What each sentence sets against the tolerance, as it stands there, divisions and all. */
const RULES: Readonly<Record<PercentArithmetic | 'spread-over-smallest', Rule>> = {
  'each-step-of-previous': (x) => steps(x).map(({ now, before }) => now.minus(before).abs().div(before)),
  'each-step-of-pair-mean': (x) =>
    steps(x).map(({ now, before }) =>
      now
        .minus(before)
        .abs()
        .div(mean([now, before])),
    ),
  'range-of-mean': (x) => [spread(x).div(mean(x))],
  band: (x) => x.map((one) => one.minus(middle(x)).abs().div(middle(x))),
  'each-of-mean': (x) => x.map((one) => one.minus(mean(x)).abs().div(mean(x))),
  'earlier-of-last': (x) => x.slice(0, -1).map((one) => one.minus(last(x)).abs().div(last(x))),
  'later-of-first': (x) => x.slice(1).map((one) => one.minus(first(x)).abs().div(first(x))),
  'spread-over-smallest': (x) => [spread(x).div(Precise.min(...x))],
};

/** A mean of three in 60 digits is off by less than this, and two figures that differ at all differ by far more. */
const ROUNDING = '1e-40';

/**
 * A second way to the same answers, written straight from the prose in 60 digits. The band asks whether the centre
 * midway between the extremes has every reading near enough: if any centre does, that one does.
 */
export function oracle(name: PercentArithmetic | 'spread-over-smallest', window: readonly string[], percent: string) {
  const tolerance = new Precise(percent).div(100).plus(ROUNDING);
  return RULES[name](window.map((one) => new Precise(one))).every((figure) => figure.lte(tolerance));
}
