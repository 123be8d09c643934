import type { Branch, Criterion, Figure, Tolerance } from '../../catalog/criteria-set.ts';
import type { AbsoluteArithmetic, PercentArithmetic } from '../../science/arithmetic-names.ts';
import { millionths } from '../../science/millionths.ts';
import { percentRatio, type Ratio, ratioAtMost } from '../../science/ratio.ts';
import { extent } from '../../science/within/extent.ts';
import { absoluteCompared } from '../../science/within-absolute.ts';
import { percentCompared } from '../../science/within-percent.ts';
import type { Options } from './read-plan.ts';

export interface Arithmetics {
  readonly percent: PercentArithmetic;
  readonly absolute: AbsoluteArithmetic;
}

interface ReadyTolerance {
  readonly rule: 'percent' | 'absolute';
  readonly figure: Figure;
  readonly limit: Ratio;
}

interface ReadyBranch {
  readonly below: Figure | null;
  readonly threshold: number;
  readonly atThresholdIn: boolean;
  /** Empty where being in this branch is enough; two where the greater of both is meant. */
  readonly tolerances: readonly ReadyTolerance[];
}

/** The criterion of one parameter, made ready for values in millionths. */
export interface Judge {
  readonly branches: readonly ReadyBranch[];
  readonly sensorFloor: { readonly text: string; readonly limit: Ratio } | null;
  readonly straddle: Options['lowValueStraddle'];
  /** Whether it has a tolerance in percent, and an absolute one. */
  readonly rules: { readonly percent: boolean; readonly absolute: boolean };
}

/** What a window of one parameter comes to. */
export interface Finding {
  readonly met: boolean;
  readonly rule: 'percent' | 'absolute' | 'below' | 'sensor-floor' | 'none';
  /** The limit that decided, null where the criteria give none. */
  readonly figure: Figure | null;
  /** What stood against it; null where a part of zero or of a negative number was asked for, or nothing is compared. */
  readonly compared: Ratio | null;
  readonly limit: Ratio | null;
}

function readyTolerances(tolerance: Tolerance, factor: number): readonly ReadyTolerance[] {
  switch (tolerance.rule) {
    case 'low-value':
      return [];
    case 'greater-of':
      return tolerance.of.flatMap((part) => readyTolerances(part, factor));
    case 'percent':
      return [{ rule: 'percent', figure: tolerance.within, limit: percentRatio(tolerance.within.value) }];
    case 'absolute': {
      const limit = { difference: millionths(tolerance.within.value) * factor, base: 1 };
      return [{ rule: 'absolute', figure: tolerance.within, limit }];
    }
  }
}

function readyBranch(branch: Branch, options: Options, factor: number): ReadyBranch {
  const unsaid = branch.atThreshold === 'unsaid' && options.lowValueEquality === 'low';
  return {
    below: branch.below ?? null,
    threshold: branch.below === undefined ? Number.POSITIVE_INFINITY : millionths(branch.below.value) * factor,
    atThresholdIn: branch.atThreshold === 'in' || unsaid,
    tolerances: readyTolerances(branch.tolerance, factor),
  };
}

function hasRule(branches: readonly ReadyBranch[], rule: ReadyTolerance['rule']): boolean {
  return branches.some((branch) => branch.tolerances.some((tolerance) => tolerance.rule === rule));
}

/** @param factor 9 for values in ninths of a degree */
export function readyJudge(criterion: Criterion, options: Options, factor: number): Judge {
  const floor = options.parameters[criterion.parameter].sensorFloor;
  const branches = criterion.branches.map((branch) => readyBranch(branch, options, factor));
  return {
    branches,
    rules: { percent: hasRule(branches, 'percent'), absolute: hasRule(branches, 'absolute') },
    sensorFloor: floor === null ? null : { text: floor, limit: { difference: millionths(floor) * factor, base: 1 } },
    straddle: options.lowValueStraddle,
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

function tryTolerance(tolerance: ReadyTolerance, window: readonly number[], by: Arithmetics): Finding {
  const { rule, figure, limit } = tolerance;
  const compared = rule === 'percent' ? percentCompared(by.percent, window) : absoluteCompared(by.absolute, window);
  return { met: compared !== null && ratioAtMost(compared, limit), rule, figure, compared, limit };
}

function byBranch(branch: ReadyBranch, window: readonly number[], by: Arithmetics): Finding {
  let finding: Finding = { met: true, rule: 'below', figure: branch.below, compared: null, limit: null };
  for (const tolerance of branch.tolerances) {
    finding = tryTolerance(tolerance, window, by);
    if (finding.met) break;
  }
  return finding;
}

const NO_TOLERANCE: Finding = { met: false, rule: 'none', figure: null, compared: null, limit: null };

/** A spread that the sensor does not resolve passes whatever the criterion says. The figure is the plan's own. */
function byFloor(judge: Judge, window: readonly number[], failed: Finding): Finding {
  if (judge.sensorFloor === null) return failed;
  const { text, limit } = judge.sensorFloor;
  const compared = absoluteCompared('total-spread', window);
  if (!ratioAtMost(compared, limit)) return failed;
  const figure: Figure = { value: text, verified: true, status: 'seen', source: "the event's plan" };
  return { met: true, rule: 'sensor-floor', figure, compared, limit };
}

/** Holds one window of one parameter against its criterion. */
export function judgeWindow(judge: Judge, window: readonly number[], by: Arithmetics): Finding {
  let finding = NO_TOLERANCE;
  for (const branch of judge.branches) {
    if (!isIn(branch, window, judge.straddle)) continue;
    finding = byBranch(branch, window, by);
    break;
  }
  return finding.met ? finding : byFloor(judge, window, finding);
}
