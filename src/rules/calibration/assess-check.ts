import type { CheckLimit, CheckLimitSet, CheckParameter } from '../../catalog/calibration/check-limit-set.ts';
import { figuresOfLimit } from '../../catalog/calibration/check-limit-sets.ts';
import { ORP_SOLUTION_WITHIN_C } from '../../catalog/calibration/drift-limits.ts';
import { PARAMETER_NAMES } from '../../catalog/parameters.ts';
import { isRefusal, type Refusal } from '../../science/refusal.ts';
import { compareText, differenceText } from '../../science/units/decimal-arithmetic.ts';
import { unreadable } from '../../science/units/unreadable.ts';
import type { CalibrationCheck } from './check.ts';
import { type CheckOptions, isPercentOfNothing, judge } from './deviation.ts';
import { type StandardValue, type StandardValues, standardValues } from './standard-value.ts';

export interface CheckResult {
  /** No limit: the document says nothing of this parameter or of a standard of this value. */
  readonly outcome: 'pass' | 'fail' | 'cannot-tell' | 'no-limit';
  readonly sentence: string;
  /** The value compared with; null where it is not known. */
  readonly standardValue: string | null;
  readonly basis: 'nominal' | 'at-temperature' | null;
  readonly deviation: string | null;
  readonly allowed: string | null;
  readonly cautions: readonly string[];
  readonly sources: readonly string[];
  /** Whether every figure of the limit was read in its document. */
  readonly verified: boolean;
}

function unjudged(outcome: 'cannot-tell' | 'no-limit', sentence: string, set: CheckLimitSet): CheckResult {
  const nothing = { standardValue: null, basis: null, deviation: null, allowed: null };
  return { outcome, sentence, ...nothing, cautions: [], sources: [set.source], verified: false };
}

export function checkName(parameter: CheckParameter): string {
  return parameter === 'zero-oxygen' ? 'Zero oxygen' : PARAMETER_NAMES[parameter].name;
}

function unitOf({ parameter, turbidityUnit }: CalibrationCheck): string {
  if (parameter === 'turbidity') return turbidityUnit ?? 'NTU or FNU, as the meter shows';
  return PARAMETER_NAMES[parameter === 'zero-oxygen' ? 'dissolved-oxygen' : parameter].unit;
}

function isFor({ from, to, above }: CheckLimit, standard: string): boolean {
  if (from !== undefined && compareText(standard, from.value) < 0) return false;
  if (to !== undefined && compareText(standard, to.value) > 0) return false;
  return above === undefined || compareText(standard, above.value) > 0;
}

/** A meter that shows raw conductivity can only be compared with what the standard has at its temperature. */
function basisOf(limit: CheckLimit, check: CalibrationCheck, options: CheckOptions): 'nominal' | 'at-temperature' {
  if (check.parameter === 'specific-conductance')
    return check.standard.conductanceShown === 'raw' ? 'at-temperature' : 'nominal';
  return options.basis ?? limit.basis.id;
}

interface Case {
  readonly check: CalibrationCheck;
  readonly reading: string;
  readonly limit: CheckLimit;
  readonly values: StandardValues;
  readonly basis: 'nominal' | 'at-temperature';
  readonly options: CheckOptions;
}

function passesWith(
  { reading, limit }: Case,
  standard: StandardValue | Refusal,
  options: CheckOptions,
): boolean | null {
  if (isRefusal(standard) || unreadable({ standard: standard.text })) return null;
  return judge(limit.tolerance, { reading, standard: standard.text }, options).passes;
}

/** What else a document can be read to say, where that would have decided otherwise. */
function otherReadings(one: Case, standard: StandardValue, passes: boolean): readonly string[] {
  const { values, basis, options, limit, check } = one;
  const other = basis === 'nominal' ? values.atTemperature : values.nominal;
  const otherOf = options.percentOf === 'reading' ? 'standard' : 'reading';
  const [stricter, wider] = (['stricter', 'wider'] as const).map((strictness) =>
    passesWith(one, standard, { ...options, strictness }),
  );
  const would = passes ? 'would have failed' : 'would have passed';
  const isCompensated = check.parameter === 'specific-conductance';
  const byOtherValue = isCompensated ? null : passesWith(one, other, options);
  const byOtherPercent = passesWith(one, standard, { ...options, percentOf: otherOf });
  const tolerance = limit.tolerance;
  const when = tolerance.rule === 'absolute' ? tolerance.stricter?.when : undefined;
  return [
    ...(byOtherValue === !passes && !isRefusal(other)
      ? [`Compared with ${other.text} (${other.how}) it ${would}.`]
      : []),
    ...(byOtherPercent === !passes ? [`With the percentage taken of the ${otherOf} it ${would}.`] : []),
    ...(stricter !== wider && when !== undefined
      ? [`There are two figures (${when}): by the stricter one it fails, by the wider one it passes.`]
      : []),
  ];
}

/** The ORP solution has to be near the temperature of the water. */
function orpTemperature(
  { parameter, standard }: CalibrationCheck,
  groundwaterC: string | undefined,
): readonly string[] {
  if (parameter !== 'orp' || groundwaterC === undefined || standard.temperatureC === undefined) return [];
  if (unreadable({ groundwaterC, temperatureC: standard.temperatureC })) return [];
  const apart = differenceText(standard.temperatureC, groundwaterC).replace('-', '');
  const { most, source } = ORP_SOLUTION_WITHIN_C;
  if (compareText(apart, most.value) <= 0) return [];
  return [`The ORP solution is ${apart} °C from the groundwater; within about ${most.value} °C is asked (${source}).`];
}

function compared(one: Case, set: CheckLimitSet, standard: StandardValue): CheckResult {
  const { check, reading, limit, options, basis } = one;
  const judged = judge(limit.tolerance, { reading, standard: standard.text }, options);
  const unit = unitOf(check);
  const does = judged.passes ? 'passes' : 'fails';
  return {
    outcome: judged.passes ? 'pass' : 'fail',
    sentence: `${checkName(check.parameter)} ${does}: ${reading} against ${standard.text} ${unit} (${standard.how}), off by ${judged.deviation}; allowed: ${judged.allowed} (${set.document}).`,
    standardValue: standard.text,
    basis,
    deviation: judged.deviation,
    allowed: judged.allowed,
    cautions: otherReadings(one, standard, judged.passes),
    sources: [set.source, standard.source],
    verified: figuresOfLimit(limit).every((figure) => figure.verified),
  };
}

function noLimit(set: CheckLimitSet, check: CalibrationCheck, standard: string): CheckResult {
  const name = checkName(check.parameter);
  return unjudged(
    'no-limit',
    `${name} cannot be judged: ${set.document} names no limit for a standard of ${standard} ${unitOf(check)}. Use a standard for which it names one, or another set.`,
    set,
  );
}

function judgeCase(set: CheckLimitSet, one: Case): CheckResult {
  const standard = one.basis === 'nominal' ? one.values.nominal : one.values.atTemperature;
  const name = checkName(one.check.parameter);
  if (isRefusal(standard)) return unjudged('cannot-tell', `${name} cannot be judged. ${standard.refused}`, set);
  const unread = unreadable({ reading: one.reading, standard: standard.text });
  if (unread) return unjudged('cannot-tell', `${name} cannot be judged: ${unread.refused}`, set);
  const limit = set.limits.find((each) => each.parameter === one.check.parameter && isFor(each, standard.text));
  if (limit === undefined || isPercentOfNothing(limit.tolerance, { reading: one.reading, standard: standard.text }))
    return noLimit(set, one.check, standard.text);
  return compared({ ...one, limit }, set, standard);
}

/**
 * Whether a check of a meter passes, by one set of limits: with the value compared, the deviation and what is allowed, and
 * with what another reading of the document would have said.
 *
 * @param groundwaterC temperature of the water at the well, by which the ORP solution is questioned
 */
export function assessCheck(
  set: CheckLimitSet,
  check: CalibrationCheck,
  options: CheckOptions = {},
  groundwaterC?: string,
): CheckResult {
  const limit = set.limits.find((each) => each.parameter === check.parameter);
  const name = checkName(check.parameter);
  if (limit === undefined)
    return unjudged('no-limit', `${name} cannot be judged: ${set.document} names no limit for it.`, set);
  if (check.reading === undefined)
    return unjudged('cannot-tell', `${name} cannot be judged: what the meter showed is not written.`, set);
  const basis = basisOf(limit, check, options);
  const result = judgeCase(set, {
    check,
    reading: check.reading,
    limit,
    values: standardValues(check),
    basis,
    options,
  });
  return { ...result, cautions: [...result.cautions, ...orpTemperature(check, groundwaterC)] };
}
