import type { CheckTolerance } from '../../catalog/calibration/check-limit-set.ts';
import type { Figure } from '../../catalog/criteria-set.ts';
import { compareText, differenceText } from '../../science/units/decimal-arithmetic.ts';
import { lastPlace } from '../../science/units/decimal-step.ts';
import { compare, decimalFraction, type Fraction, fraction, minus, times } from '../../science/units/fraction.ts';
import { textAtPlace } from '../../science/units/fraction-text.ts';

/** What a document leaves open, as the plan fixes it. */
export interface CheckOptions {
  /** Compare with the label, or with the value at the temperature. Default: that of the limit. */
  readonly basis?: 'nominal' | 'at-temperature' | undefined;
  /** Of what a percentage is taken. Default: of the standard. */
  readonly percentOf?: 'standard' | 'reading' | undefined;
  /** Which of two figures counts where a document names two. Default: as the set says. */
  readonly strictness?: 'stricter' | 'wider' | undefined;
}

export interface Judged {
  readonly passes: boolean;
  /** By how much the reading misses the standard, with its sign. */
  readonly deviation: string;
  /** What is allowed, in words. */
  readonly allowed: string;
}

const ZERO = fraction(0n);

function size(value: Fraction): Fraction {
  return value.over < 0n ? { over: -value.over, under: value.under } : value;
}

interface Pair {
  readonly reading: string;
  readonly standard: string;
}

/** The absolute amount that a percentage allows, exactly. */
function share(percent: Figure, { reading, standard }: Pair, options: CheckOptions): Fraction {
  const of = options.percentOf === 'reading' ? reading : standard;
  return times(size(decimalFraction(of)), times(decimalFraction(percent.value), fraction(1n, 100n)));
}

function withinAmount(pair: Pair, amount: Fraction): boolean {
  return compare(size(minus(decimalFraction(pair.reading), decimalFraction(pair.standard))), amount) <= 0;
}

/** An allowed amount to one place more than was read, so that its rounding never decides what a person sees. */
function amountText(amount: Fraction, pair: Pair): string {
  return textAtPlace(amount, Math.min(lastPlace(pair.reading), lastPlace(pair.standard)) - 1);
}

function ofWhat(options: CheckOptions): string {
  return options.percentOf === 'reading' ? 'the reading' : 'the standard';
}

function between(tolerance: CheckTolerance & { rule: 'between' }, { reading }: Pair): Omit<Judged, 'deviation'> {
  const { least, most, mostIs } = tolerance;
  const high = compareText(reading, most.value);
  const isLow = least !== undefined && compareText(reading, least.value) < 0;
  const upper = mostIs === 'in' ? `at most ${most.value}` : `less than ${most.value}`;
  return {
    passes: !isLow && (mostIs === 'in' ? high <= 0 : high < 0),
    allowed: least === undefined ? upper : `at least ${least.value} and ${upper}`,
  };
}

/** The figure of an absolute tolerance that counts. */
export function countingFigure(tolerance: CheckTolerance & { rule: 'absolute' }, options: CheckOptions): Figure {
  const { within, stricter } = tolerance;
  if (stricter === undefined) return within;
  return (options.strictness ?? stricter.usual) === 'stricter' ? stricter.figure : within;
}

function tolerated(tolerance: CheckTolerance, pair: Pair, options: CheckOptions): Omit<Judged, 'deviation'> {
  if (tolerance.rule === 'between') return between(tolerance, pair);
  if (tolerance.rule === 'absolute') {
    const { value } = countingFigure(tolerance, options);
    return { passes: withinAmount(pair, decimalFraction(value)), allowed: `within ${value}` };
  }
  const percent = tolerance.rule === 'percent' ? tolerance.within : tolerance.percent;
  const amount = share(percent, pair, options);
  const part = `${percent.value} % of ${ofWhat(options)}, ${amountText(amount, pair)}`;
  if (tolerance.rule === 'percent') return { passes: withinAmount(pair, amount), allowed: `within ${part}` };
  const floor = decimalFraction(tolerance.absolute.value);
  return {
    passes: withinAmount(pair, amount) || withinAmount(pair, floor),
    allowed: `within ${part}, or ${tolerance.absolute.value}, whichever is greater`,
  };
}

/**
 * Whether a reading of a standard is within a tolerance, in decimal: exactly at it passes, and 7.20 is within 0.2 of 7.00
 * though binary numbers say otherwise.
 */
export function judge(tolerance: CheckTolerance, pair: Pair, options: CheckOptions): Judged {
  return { ...tolerated(tolerance, pair, options), deviation: differenceText(pair.reading, pair.standard) };
}

/** A percentage of nothing allows nothing: such a standard cannot be judged by it. */
export function isPercentOfNothing(tolerance: CheckTolerance, { standard }: Pair): boolean {
  return tolerance.rule === 'percent' && compare(decimalFraction(standard), ZERO) === 0;
}
