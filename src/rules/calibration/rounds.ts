import type { CheckLimitSet } from '../../catalog/calibration/check-limit-set.ts';
import type { Parameter } from '../../catalog/parameters.ts';
import { instantMs } from '../../science/instant-ms.ts';
import { isRefusal } from '../../science/refusal.ts';
import { isPlainDecimal } from '../../science/units/fraction.ts';
import { orNull } from '../chemistry/known.ts';
import { type Run, runsOf } from '../chemistry/runs.ts';
import { assessCheck, type CheckResult } from './assess-check.ts';
import { type CalibrationCheck, orderMs, parameterOf } from './check.ts';
import type { CheckOptions } from './deviation.ts';
import { standardValues } from './standard-value.ts';

export interface AssessedCheck {
  readonly check: CalibrationCheck;
  readonly atMs: number;
  /** Of a calibration it decides nothing: setting a meter to a standard proves nothing about it. */
  readonly result: CheckResult;
}

/** A calibration, or checks in several standards one after another: what happened to one sensor at one time. */
export interface Round {
  readonly act: CalibrationCheck['act'];
  /** Time of its first check: as entered, and in milliseconds since 1970 in order with what others recorded. */
  readonly at: string;
  readonly startMs: number;
  readonly checks: Run<AssessedCheck>;
  /** Passed when the last try in every standard passed; a calibration is neither. */
  readonly outcome: 'pass' | 'fail' | 'cannot-tell' | 'calibrated';
  /** Values of the standards that were met, which the round vouches for. */
  readonly standards: readonly string[];
}

/** Standards read one after another, each within this time of the one before, belong to one round. Our choice. */
export const ROUND_GAP_MS = 30 * 60_000;

function inOrder(checks: readonly CalibrationCheck[]): readonly CalibrationCheck[] {
  const atMs = ({ at }: CalibrationCheck) => instantMs(at);
  return checks.toSorted((a, b) => orderMs(a) - orderMs(b) || atMs(a) - atMs(b) || (a.id < b.id ? -1 : 1));
}

/** What names a standard: two tries in one bottle are tries in one standard. */
function standardKey({ check }: AssessedCheck): string {
  const { nominal } = standardValues(check);
  return isRefusal(nominal) ? check.parameter : `${check.parameter} ${nominal.text}`;
}

/** The last try in each standard: a fresh portion after a spoilt one decides. */
function lastTries(checks: readonly AssessedCheck[]): readonly AssessedCheck[] {
  return [...new Map(checks.map((one) => [standardKey(one), one])).values()];
}

function outcomeOf(act: Round['act'], tries: readonly AssessedCheck[]): Round['outcome'] {
  if (act === 'calibrated') return 'calibrated';
  const outcomes = tries.map(({ result }) => result.outcome);
  if (outcomes.includes('fail')) return 'fail';
  return outcomes.includes('pass') && !outcomes.includes('cannot-tell') ? 'pass' : 'cannot-tell';
}

/**
 * The value that a check vouches for: as compared, or of a calibration what the meter was set to. Field readings of
 * conductance are at 25 °C, so that its label counts even where the meter showed raw conductivity.
 */
function vouchedValue({ check, result }: AssessedCheck): readonly string[] {
  const isChecked = check.act === 'checked';
  if (isChecked && result.outcome !== 'pass') return [];
  if (isChecked && check.parameter !== 'specific-conductance') return textsOf(result.standardValue);
  const { nominal, atTemperature } = standardValues(check);
  const value = isRefusal(nominal) ? atTemperature : nominal;
  return textsOf(orNull(value, ({ text }) => text));
}

function textsOf(text: string | null): readonly string[] {
  return text !== null && isPlainDecimal(text) ? [text] : [];
}

function roundOf(checks: Run<AssessedCheck>): Round {
  const [{ check, atMs }] = checks;
  const tries = lastTries(checks);
  return {
    act: check.act,
    at: check.at,
    startMs: atMs,
    checks,
    outcome: outcomeOf(check.act, tries),
    standards: tries.flatMap(vouchedValue),
  };
}

/** Those of a round on one side of a moment, as a round by itself where there are others. */
function part(round: Round, isOnSide: (one: AssessedCheck) => boolean): readonly Round[] {
  const its = round.checks.filter(isOnSide);
  return its.length === round.checks.length ? [round] : runsOf(its, () => true).map(roundOf);
}

/** The rounds before a moment and after it; one that goes on after it is cut there, and each half is judged by itself. */
export function roundsAt(
  rounds: readonly Round[],
  atMs: number,
): { readonly earlier: readonly Round[]; readonly later: readonly Round[] } {
  return {
    earlier: rounds.flatMap((round) => part(round, (one) => one.atMs <= atMs)),
    later: rounds.flatMap((round) => part(round, (one) => one.atMs > atMs)),
  };
}

function belongs(last: AssessedCheck, next: AssessedCheck): boolean {
  return last.check.act === next.check.act && next.atMs - last.atMs <= ROUND_GAP_MS;
}

/** What happened to one sensor of one meter, earliest first; in any order of the list. */
export function roundsOf(
  set: CheckLimitSet,
  checks: readonly CalibrationCheck[],
  sensor: { readonly meter: string; readonly parameter: Parameter },
  options: CheckOptions = {},
): readonly Round[] {
  const own = checks.filter((one) => one.meter === sensor.meter && parameterOf(one) === sensor.parameter);
  const assessed = inOrder(own).map((check) => ({
    check,
    atMs: orderMs(check),
    result: assessCheck(set, check, options),
  }));
  return runsOf(assessed, belongs).map(roundOf);
}
