import type { Branch, Criterion, Figure, Tolerance } from '../../catalog/criteria-set.ts';
import type { AbsoluteArithmetic, PercentArithmetic } from '../../science/arithmetic-names.ts';
import { millionths } from '../../science/millionths.ts';
import { percentRatio, type Ratio, ratioAtMost } from '../../science/ratio.ts';
import { extent } from '../../science/within/extent.ts';
import { absoluteCompared } from '../../science/within-absolute.ts';
import { percentCompared } from '../../science/within-percent.ts';
import type { Options } from './read-plan.ts';
import { planFigure } from './read-plan-volumes.ts';

export interface Arithmetics {
  readonly percent: PercentArithmetic;
  readonly absolute: AbsoluteArithmetic;
}

interface ReadyTolerance {
  readonly rule: 'percent' | 'absolute' | 'at-most';
  readonly figure: Figure;
  readonly limit: Ratio;
  /** Exactly at the limit does not pass. */
  readonly lessThan: boolean;
  /** Of the figure, where it is not that of the values. */
  readonly unit: '°F' | null;
}

interface ReadyBranch {
  readonly below: Figure | null;
  readonly threshold: number;
  readonly atThresholdIn: boolean;
  /** Empty where being in this branch is enough; two where the greater of both is meant. */
  readonly tolerances: readonly ReadyTolerance[];
  /** What is found where it has none. */
  readonly lowEnough: Finding;
}

/** The criterion of one parameter, made ready for values in millionths. */
export interface Judge {
  readonly branches: readonly ReadyBranch[];
  readonly sensorFloor: { readonly text: string; readonly limit: Ratio } | null;
  readonly straddle: Options['lowValueStraddle'];
  /** An upper limit that must hold besides. */
  readonly atMost: ReadyTolerance | null;
  /** Whether it has a tolerance in percent, and an absolute one. */
  readonly rules: { readonly percent: boolean; readonly absolute: boolean };
}

/** What a window of one parameter comes to. */
export interface Finding {
  readonly met: boolean;
  readonly rule: 'percent' | 'absolute' | 'at-most' | 'below' | 'sensor-floor' | 'none';
  /** The limit that decided, null where the criteria give none. */
  readonly figure: Figure | null;
  /** What stood against it; null where a part of zero or of a negative number was asked for, or nothing is compared. */
  readonly compared: Ratio | null;
  readonly limit: Ratio | null;
  /** The tolerance of the criteria that decided, if one did. */
  readonly tolerance: ReadyTolerance | null;
}

function readyAtMost(figure: Figure, factor: number): ReadyTolerance {
  const limit = { difference: millionths(figure.value) * factor, base: 1 };
  return { rule: 'at-most', figure, limit, lessThan: false, unit: null };
}

function readyTolerances(tolerance: Tolerance, factor: number): readonly ReadyTolerance[] {
  switch (tolerance.rule) {
    case 'low-value':
      return [];
    case 'greater-of':
    case 'either':
      return tolerance.of.flatMap((part) => readyTolerances(part, factor));
    case 'at-most':
      return [readyAtMost(tolerance.limit, factor)];
    case 'percent': {
      const { rule, within: figure, lessThan = false } = tolerance;
      return [{ rule, figure, limit: percentRatio(figure.value), lessThan, unit: null }];
    }
    case 'absolute': {
      const { rule, within: figure, lessThan = false, unit = null } = tolerance;
      const limit = { difference: millionths(figure.value) * (unit === null ? factor : NINTHS_PER_F), base: 1 };
      return [{ rule, figure, limit, lessThan, unit }];
    }
  }
}

/** A degree Fahrenheit is five ninths of a degree Celsius. */
const NINTHS_PER_F = 5;

/** Whether values must be in ninths of a degree for a criterion to be exact. */
export function asksFahrenheit({ parameter, branches }: Criterion): boolean {
  return (
    parameter === 'temperature' && branches.some(({ tolerance }) => tolerance.rule === 'absolute' && tolerance.unit)
  );
}

function readyBranch(branch: Branch, options: Options, factor: number): ReadyBranch {
  const unsaid = branch.atThreshold === 'unsaid' && options.lowValueEquality === 'low';
  const below = branch.below ?? null;
  return {
    below,
    threshold: branch.below === undefined ? Number.POSITIVE_INFINITY : millionths(branch.below.value) * factor,
    atThresholdIn: branch.atThreshold === 'in' || unsaid,
    tolerances: readyTolerances(branch.tolerance, factor),
    lowEnough: { met: true, rule: 'below', figure: below, compared: null, limit: null, tolerance: null },
  };
}

function hasRule(branches: readonly ReadyBranch[], rule: ReadyTolerance['rule']): boolean {
  return branches.some((branch) => branch.tolerances.some((tolerance) => tolerance.rule === rule));
}

/** @param factor 9 for values in ninths of a degree */
export function readyJudge(criterion: Criterion, options: Options, factor: number): Judge {
  const { sensorFloor: floor, atMost } = options.parameters[criterion.parameter];
  const branches = criterion.branches.map((branch) => readyBranch(branch, options, factor));
  return {
    branches,
    rules: { percent: hasRule(branches, 'percent'), absolute: hasRule(branches, 'absolute') },
    sensorFloor: floor === null ? null : { text: floor, limit: { difference: millionths(floor) * factor, base: 1 } },
    straddle: options.lowValueStraddle,
    atMost: atMost === null ? null : readyAtMost(atMost, factor),
  };
}

/** A tolerance in percent of saturation: the floor, the rounding and the upper limit of a plan are in mg/L. */
export function saturationJudge(tolerance: Tolerance, options: Options): Judge {
  const branches = [readyBranch({ tolerance }, options, 1)];
  return {
    branches,
    rules: { percent: hasRule(branches, 'percent'), absolute: hasRule(branches, 'absolute') },
    sensorFloor: null,
    straddle: options.lowValueStraddle,
    atMost: null,
  };
}

/** Whether a window is in a branch: every reading is below its threshold, or the mean of the window is. */
function isIn(branch: ReadyBranch, window: readonly number[], straddle: Options['lowValueStraddle']): boolean {
  if (branch.below === null) return true;
  const { largest, sum } = extent(window);
  const figure = straddle === 'window' ? sum : largest;
  const threshold = straddle === 'window' ? branch.threshold * window.length : branch.threshold;
  return figure < threshold || (branch.atThresholdIn && figure === threshold);
}

function comparedBy({ rule }: ReadyTolerance, window: readonly number[], by: Arithmetics): Ratio | null {
  if (rule === 'percent') return percentCompared(by.percent, window);
  if (rule === 'absolute') return absoluteCompared(by.absolute, window);
  return { difference: extent(window).largest, base: 1 };
}

function passes(compared: Ratio, { limit, lessThan }: ReadyTolerance): boolean {
  return lessThan ? !ratioAtMost(limit, compared) : ratioAtMost(compared, limit);
}

function tryTolerance(tolerance: ReadyTolerance, window: readonly number[], by: Arithmetics): Finding {
  const { rule, figure, limit } = tolerance;
  const compared = comparedBy(tolerance, window, by);
  return { met: compared !== null && passes(compared, tolerance), rule, figure, compared, limit, tolerance };
}

function byBranch(branch: ReadyBranch, window: readonly number[], by: Arithmetics): Finding {
  let finding = branch.lowEnough;
  for (const tolerance of branch.tolerances) {
    finding = tryTolerance(tolerance, window, by);
    if (finding.met) break;
  }
  return finding;
}

const NOT_COMPARED: Finding = {
  met: false,
  rule: 'none',
  figure: null,
  compared: null,
  limit: null,
  tolerance: null,
};

/** A spread that the sensor does not resolve passes whatever the criterion says. The figure is the plan's own. */
function byFloor(judge: Judge, window: readonly number[], failed: Finding): Finding {
  if (judge.sensorFloor === null) return failed;
  const { text, limit } = judge.sensorFloor;
  const compared = absoluteCompared('total-spread', window);
  if (!ratioAtMost(compared, limit)) return failed;
  return { met: true, rule: 'sensor-floor', figure: planFigure(text), compared, limit, tolerance: null };
}

function byCriterion(judge: Judge, window: readonly number[], by: Arithmetics): Finding {
  for (const branch of judge.branches) if (isIn(branch, window, judge.straddle)) return byBranch(branch, window, by);
  return NOT_COMPARED;
}

/** Holds one window of one parameter against its criterion. */
export function judgeWindow(judge: Judge, window: readonly number[], by: Arithmetics): Finding {
  const found = byCriterion(judge, window, by);
  const finding = found.met ? found : byFloor(judge, window, found);
  if (judge.atMost === null || !finding.met) return finding;
  const besides = tryTolerance(judge.atMost, window, by);
  return besides.met ? finding : besides;
}
