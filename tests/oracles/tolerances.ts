import type { Branch, Criterion, Figure, Tolerance } from '../../src/catalog/criteria-set.ts';
import type { StabilizationPlan } from '../../src/protocol/event-plan.ts';
import type { AbsoluteArithmetic, PercentArithmetic } from '../../src/science/arithmetic-names.ts';
import {
  compare,
  dividedBy,
  type Exact,
  exact,
  largest,
  mean,
  minus,
  plus,
  size,
  smallest,
  times,
  whole,
} from './exact.ts';

export type Met = 'stable' | 'low-value' | 'not-stable';
export interface Arithmetics {
  readonly percent: PercentArithmetic;
  readonly absolute: AbsoluteArithmetic;
}
type Values = readonly Exact[];

const ZERO = whole(0);
const TWO = whole(2);
const apart = (a: Exact, b: Exact) => size(minus(a, b));
const spread = (x: Values) => minus(largest(x), smallest(x));
const pairs = (x: Values) => x.slice(1).map((now, at) => ({ now, before: x[at] ?? now }));
const first = (x: Values) => x[0] ?? ZERO;
const last = (x: Values) => x.at(-1) ?? ZERO;
const most = (x: Values) => (x.length === 0 ? ZERO : largest(x));

/** Rule A12. */
const PERCENT: Readonly<Record<PercentArithmetic, (x: Values) => Exact>> = {
  'each-step-of-previous': (x) => most(pairs(x).map(({ now, before }) => dividedBy(apart(now, before), before))),
  'each-step-of-pair-mean': (x) =>
    most(pairs(x).map(({ now, before }) => dividedBy(apart(now, before), dividedBy(plus(now, before), TWO)))),
  'range-of-mean': (x) => dividedBy(spread(x), mean(x)),
  band: (x) => dividedBy(spread(x), plus(largest(x), smallest(x))),
  'each-of-mean': (x) => most(x.map((one) => dividedBy(apart(one, mean(x)), mean(x)))),
  'earlier-of-last': (x) => most(x.map((one) => dividedBy(apart(one, last(x)), last(x)))),
  'later-of-first': (x) => most(x.map((one) => dividedBy(apart(one, first(x)), first(x)))),
};

/** Rule A13. */
const ABSOLUTE: Readonly<Record<AbsoluteArithmetic, (x: Values) => Exact>> = {
  'total-spread': spread,
  band: (x) => dividedBy(spread(x), TWO),
  'each-step': (x) => most(pairs(x).map(({ now, before }) => apart(now, before))),
};

function isWithin(figure: Exact, limit: Exact, lessThan: boolean | undefined): boolean {
  return lessThan ? compare(figure, limit) < 0 : compare(figure, limit) <= 0;
}

/** Rules A12, A13, A15 and A26: what a tolerance says of a window. */
function meets(tolerance: Tolerance, x: Values, by: Arithmetics): Met {
  switch (tolerance.rule) {
    case 'low-value':
      return 'low-value';
    case 'at-most':
      return x.every((one) => compare(one, exact(tolerance.limit.value)) <= 0) ? 'low-value' : 'not-stable';
    case 'percent': {
      if (x.some((one) => compare(one, ZERO) <= 0)) return 'not-stable';
      const limit = dividedBy(exact(tolerance.within.value), whole(100));
      return isWithin(PERCENT[by.percent](x), limit, tolerance.lessThan) ? 'stable' : 'not-stable';
    }
    case 'absolute': {
      const within = exact(tolerance.within.value);
      const limit = tolerance.unit === '°F' ? dividedBy(times(within, whole(5)), whole(9)) : within;
      return isWithin(ABSOLUTE[by.absolute](x), limit, tolerance.lessThan) ? 'stable' : 'not-stable';
    }
    default:
      return tolerance.of.map((one) => meets(one, x, by)).find((one) => one !== 'not-stable') ?? 'not-stable';
  }
}

function isBelow(value: Exact, below: Figure, atThreshold: Branch['atThreshold'], plan: StabilizationPlan): boolean {
  const order = compare(value, exact(below.value));
  if (order !== 0) return order < 0;
  return atThreshold === 'in' || (atThreshold === 'unsaid' && plan.lowValueEquality === 'low');
}

function holds({ below, atThreshold }: Branch, x: Values, plan: StabilizationPlan): boolean {
  if (below === undefined) return true;
  const looked = plan.lowValueStraddle === 'window' ? [mean(x)] : x;
  return looked.every((value) => isBelow(value, below, atThreshold, plan));
}

/** Rules A14 to A16 and A26: a criterion over the values of a full window in the parameter's own unit. */
export function byCriterion(criterion: Criterion, x: Values, plan: StabilizationPlan, by: Arithmetics): Met {
  const branch = criterion.branches.find((one) => holds(one, x, plan));
  const met = branch ? meets(branch.tolerance, x, by) : 'not-stable';
  if (met !== 'not-stable') return met;
  const floor = plan.parameters?.[criterion.parameter]?.sensorFloor;
  return floor && compare(spread(x), exact(floor)) <= 0 ? 'stable' : 'not-stable';
}

/** Rule A26: the same window in percent of saturation, which has no floor. */
export function bySaturation(tolerance: Tolerance, x: Values, by: Arithmetics): Met {
  return meets(tolerance, x, by);
}

/** Rule A26: the limit that every value must keep, whatever else passed. */
export function keepsUpperLimit(criterion: Criterion, x: Values, plan: StabilizationPlan): boolean {
  const limit = plan.parameters?.[criterion.parameter]?.atMost ?? criterion.atMost?.value;
  return limit == null || x.every((value) => compare(value, exact(limit)) <= 0);
}
