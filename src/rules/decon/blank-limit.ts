import type { Figure } from '../../catalog/criteria-set.ts';
import { BLANK_RULES, type BlankRule, type BlankRuleId } from '../../catalog/decon/blank-rules.ts';
import { productText } from '../../science/units/decimal-arithmetic.ts';
import { compare, decimalFraction, times } from '../../science/units/fraction.ts';
import { isSameAnalyte } from './analyte-key.ts';
import { type AnalyteResult, decimalOf, perUnit, shownResult } from './analyte-result.ts';

export interface BlankAnswer {
  readonly standing: 'cleared' | 'in-question' | 'cannot-tell';
  readonly sentence: string;
  /** Up to which, itself included, a result of a sample is in question; in the unit of the blank. */
  readonly limit: string | null;
  readonly limitUnit: string | null;
  /** How many times the blank. */
  readonly factor: string;
  readonly verified: boolean;
  /** Rests on a value that the laboratory only estimated. */
  readonly isEstimated: boolean;
  readonly source: string;
}

export const DEFAULT_BLANK_RULE: BlankRuleId = 'us-dod-2022';

/** The factor for an analyte: of its own where the rule names it among what laboratories bring in. */
export function blankFactor(rule: BlankRule, casNumber: string | null | undefined): Figure {
  const isCommon = rule.common?.analytes.some((one) => one.casNumber === casNumber) ?? false;
  return isCommon && rule.common ? rule.common.factor : rule.factor;
}

interface Compared {
  readonly blank: AnalyteResult;
  readonly sample: AnalyteResult;
  readonly factor: string;
}

type Told = Pick<BlankAnswer, 'standing' | 'sentence'>;

const cannotTell = (sentence: string): Told => ({ standing: 'cannot-tell', sentence });
const cleared = (sentence: string): Told => ({ standing: 'cleared', sentence });
const inQuestion = (sentence: string): Told => ({ standing: 'in-question', sentence });

/** Below zero, zero or above zero, as a result is below, at or above so many times a figure of the blank; exactly. */
function againstLimit(value: string, { blank, sample, factor }: Compared, ofBlank: string): number | null {
  const per = perUnit(sample.unit, blank.unit);
  if (per === null) return null;
  return compare(times(decimalFraction(value), per), times(decimalFraction(ofBlank), decimalFraction(factor)));
}

function notComparable({ blank, sample }: Compared): Told {
  return cannotTell(
    `${sample.unit} of the sample and ${blank.unit} of the blank cannot be compared: ask the laboratory for one unit.`,
  );
}

function timesBlank({ blank, factor }: Compared, ofBlank: string): string {
  return `${shownResult(productText(ofBlank, factor), blank.unit)}, ${factor} times the blank's ${shownResult(ofBlank, blank.unit)}`;
}

function byValue(compared: Compared, value: string, ofBlank: string): Told {
  const { blank, sample } = compared;
  const estimated = blank.condition === 'below-reporting-limit' ? ' (estimated: below its reporting limit)' : '';
  const order = againstLimit(value, compared, ofBlank);
  if (order === null) return notComparable(compared);
  const result = `${sample.analyte}: ${shownResult(value, sample.unit)} is`;
  if (order > 0) return cleared(`${result} above ${timesBlank(compared, ofBlank)}${estimated}.`);
  return inQuestion(`${result} not above ${timesBlank(compared, ofBlank)}${estimated}.`);
}

/** The sample is below its reporting limit without a figure: in question for certain if that limit is. */
function byReportingLimit(compared: Compared, limit: string | null, ofBlank: string): Told {
  const { sample } = compared;
  const below = `${sample.analyte}: the sample is below its reporting limit and no figure is given`;
  if (limit === null) return cannotTell(`${below}, nor the limit: ask the laboratory for it.`);
  const order = againstLimit(limit, compared, ofBlank);
  if (order === null) return notComparable(compared);
  const shown = `${below}; that limit, ${shownResult(limit, sample.unit)}, is`;
  if (order <= 0) return inQuestion(`${shown} not above ${timesBlank(compared, ofBlank)}.`);
  return cannotTell(`${shown} above ${timesBlank(compared, ofBlank)}: ask the laboratory for the figure.`);
}

/** The blank is below its reporting limit without a figure: a sample above so many times that limit is clear of it. */
function byLimitOfBlank(compared: Compared, value: string | null, limit: string | null): Told {
  const { blank, sample } = compared;
  const below = `${blank.analyte}: the blank is below its reporting limit and no figure is given`;
  if (limit === null || value === null) return cannotTell(`${below}: ask the laboratory for it.`);
  const order = againstLimit(value, compared, limit);
  if (order === null) return notComparable(compared);
  const shown = `${below}; ${shownResult(value, sample.unit)} of the sample is`;
  const most = `${shownResult(productText(limit, compared.factor), blank.unit)}, ${compared.factor} times that limit`;
  if (order > 0) return cleared(`${shown} above ${most}.`);
  return cannotTell(`${shown} not above ${most}: ask the laboratory for the figure of the blank.`);
}

function notDetectedInBlank({ blank, sample }: Compared): Told {
  const plain = `${blank.analyte} was not detected in the blank`;
  const [limit, value] = [decimalOf(blank.reportingLimit), decimalOf(sample.value)];
  const order = limit && value ? againstLimit(value, { blank, sample, factor: '1' }, limit) : null;
  if (limit === null || order === null || order >= 0) return cleared(`${plain}.`);
  return cleared(
    `${plain}; its reporting limit, ${shownResult(limit, blank.unit)}, is above the result, so that less would not have shown.`,
  );
}

function told(compared: Compared): Told {
  const { blank, sample } = compared;
  if (blank.condition === 'not-detected') return notDetectedInBlank(compared);
  if (blank.condition === 'not-reported') return cannotTell(`The blank was not analysed for ${blank.analyte}.`);
  if (sample.condition === 'not-reported') return cannotTell(`The sample was not analysed for ${blank.analyte}.`);
  if (sample.condition === 'not-detected') return cleared(`${sample.analyte} was not detected in the sample.`);
  const [ofBlank, value] = [decimalOf(blank.value), decimalOf(sample.value)];
  if (ofBlank === null && blank.condition === 'below-reporting-limit')
    return byLimitOfBlank(compared, value, decimalOf(blank.reportingLimit));
  if (ofBlank === null) return cannotTell(`${blank.analyte} was found in the blank, and no figure is given.`);
  if (value !== null) return byValue(compared, value, ofBlank);
  if (sample.condition === 'below-reporting-limit')
    return byReportingLimit(compared, decimalOf(sample.reportingLimit), ofBlank);
  return cannotTell(`${sample.analyte} was found in the sample, and no figure is given.`);
}

/**
 * Whether a result of a sample may come from what was found in a blank: in question up to so many times the blank, that
 * figure included, cleared above it. What was not detected is cleared, and a blank in which nothing was detected clears
 * everything. That the table reports a detection up to the limit of detection as none is for who validates. Results are
 * never subtracted, and no qualifier is written: it proposes what a reviewer should look at.
 *
 * Source: US Department of Defense, Data Validation Guidelines, revised table A, 9 Feb 2022, rows 1 to 3, read in a copy;
 * or the rule named. Compared in exact decimal arithmetic.
 *
 * @param sample undefined where the sample has no result for this analyte
 * @example blank 0.8 µg/L: a sample of 4.0 µg/L is in question, one of 4.1 µg/L cleared
 */
export function judgeAgainstBlank(
  blank: AnalyteResult,
  sample: AnalyteResult | undefined,
  ruleId: BlankRuleId = DEFAULT_BLANK_RULE,
): BlankAnswer {
  const rule = BLANK_RULES[ruleId];
  const { value: factor, verified } = blankFactor(rule, blank.casNumber ?? sample?.casNumber);
  const compared = { blank, factor, sample: sample ?? { ...blank, value: null, condition: 'not-reported' as const } };
  const answer =
    sample && !isSameAnalyte(blank, sample)
      ? cannotTell(`${sample.analyte} of the sample is not ${blank.analyte} of the blank.`)
      : told(compared);
  const ofBlank =
    blank.condition === 'not-detected' || blank.condition === 'not-reported' ? null : decimalOf(blank.value);
  return {
    ...answer,
    limit: ofBlank === null ? null : productText(ofBlank, factor),
    limitUnit: ofBlank === null ? null : blank.unit,
    factor,
    verified,
    isEstimated: [blank, sample].some((one) => one?.condition === 'below-reporting-limit'),
    source: rule.source,
  };
}

const GRAVEST: readonly BlankAnswer['standing'][] = ['in-question', 'cannot-tell', 'cleared'];

/**
 * The same against several blanks: one that puts the result in question is enough, and one that cannot be told keeps it
 * from being cleared. Undefined where there is no blank. The order of the blanks makes no difference to the standing.
 */
export function judgeAgainstBlanks(
  blanks: readonly AnalyteResult[],
  sample: AnalyteResult | undefined,
  ruleId: BlankRuleId = DEFAULT_BLANK_RULE,
): BlankAnswer | undefined {
  const answers = blanks.map((blank) => judgeAgainstBlank(blank, sample, ruleId));
  return answers.toSorted(
    (a, b) =>
      GRAVEST.indexOf(a.standing) - GRAVEST.indexOf(b.standing) ||
      (a.sentence < b.sentence ? -1 : a.sentence > b.sentence ? 1 : 0),
  )[0];
}
