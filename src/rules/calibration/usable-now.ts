import type { CheckLimitSet } from '../../catalog/calibration/check-limit-set.ts';
import type { Parameter } from '../../catalog/parameters.ts';
import { instantMs } from '../../science/instant-ms.ts';
import { shownTime } from './around-reading.ts';
import { checkName } from './assess-check.ts';
import { type CalibrationCheck, orderMs, parameterOf } from './check.ts';
import type { CheckOptions } from './deviation.ts';
import { driftCautions } from './drift.ts';
import { type Round, roundsOf } from './rounds.ts';

export interface UsableGiven {
  readonly meter: string;
  readonly parameters: readonly Parameter[];
  readonly now: string;
  /** How long a pass or a calibration vouches for a meter, in hours. */
  readonly longestH: number;
}

export interface SensorStanding {
  readonly parameter: Parameter;
  readonly usable: boolean;
  readonly reasons: readonly string[];
  readonly cautions: readonly string[];
  /** Last instant until which the last pass vouches; null where nothing does. */
  readonly until: string | null;
}

const MS_PER_H = 3_600_000;

const NOTHING_RECORDED = 'No calibration and no check of this meter is recorded: calibrate and check it first.';

function failing(round: Round): string {
  const failed = round.checks.filter(({ result }) => result.outcome === 'fail');
  return failed.map(({ result }) => result.sentence).join(' ');
}

/** Why the last round does not vouch for the sensor now; undefined where it does. */
function whyNot(last: Round, set: CheckLimitSet, given: UsableGiven): string | undefined {
  if (last.outcome === 'fail')
    return `The last check, at ${shownTime(last)}, failed. ${failing(last)} Try a fresh portion of the standard, else calibrate and check again.`;
  if (last.outcome === 'cannot-tell')
    return `The last check, at ${shownTime(last)}, cannot be judged: write what is missing, or check again.`;
  if (last.outcome === 'calibrated' && set.startBy === 'check')
    return `Calibrated at ${shownTime(last)} and not checked since: read a standard as if it were a sample first.`;
  const ageMs = instantMs(given.now) - last.startMs;
  if (ageMs > given.longestH * MS_PER_H)
    return `The last check or calibration, at ${shownTime(last)}, is more than ${given.longestH} h old: check the meter first.`;
  return undefined;
}

function cautionsOf(rounds: readonly Round[], parameter: Parameter, set: CheckLimitSet): readonly string[] {
  const [last, beforeLast] = [rounds.at(-1), rounds.at(-2)];
  const drift = last && beforeLast ? driftCautions(beforeLast, last) : [];
  const isLimited = set.limits.some((limit) => limit.parameter === parameter);
  return isLimited ? drift : [...drift, `${set.document} names no limit for ${checkName(parameter)}.`];
}

function standing(
  rounds: readonly Round[],
  parameter: Parameter,
  set: CheckLimitSet,
  given: UsableGiven,
): SensorStanding {
  const last = rounds.at(-1);
  const cautions = cautionsOf(rounds, parameter, set);
  const no = (reason: string) => ({ parameter, usable: false, reasons: [reason], cautions, until: null });
  if (last === undefined) return no(NOTHING_RECORDED);
  const against = whyNot(last, set, given);
  if (against !== undefined) return no(against);
  const does = last.outcome === 'pass' ? 'passed its check' : 'was calibrated';
  return {
    parameter,
    usable: true,
    reasons: [`${checkName(parameter)} ${does} at ${shownTime(last)}. A check after the last reading is still owed.`],
    cautions,
    until: new Date(last.startMs + given.longestH * MS_PER_H).toISOString(),
  };
}

function warned(one: SensorStanding, fromLater: readonly CalibrationCheck[]): SensorStanding {
  if (!fromLater.some((check) => parameterOf(check) === one.parameter)) return one;
  return {
    ...one,
    cautions: [...one.cautions, 'A check is recorded for later than now and is not counted: look at the clocks.'],
  };
}

/**
 * Whether a meter may be used now, sensor by sensor, from its checks alone, so that a phone can answer at the well. A
 * reading that was made nevertheless is kept like any other.
 */
export function usableNow(
  set: CheckLimitSet,
  checks: readonly CalibrationCheck[],
  given: UsableGiven,
  options: CheckOptions = {},
): readonly SensorStanding[] {
  const nowMs = instantMs(given.now);
  const past = checks.filter((check) => orderMs(check) <= nowMs);
  const later = checks.filter((check) => check.meter === given.meter && orderMs(check) > nowMs);
  return given.parameters.map((parameter) => {
    const rounds = roundsOf(set, past, { meter: given.meter, parameter }, options);
    return warned(standing(rounds, parameter, set, given), later);
  });
}
