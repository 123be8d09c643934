import { type Refusal, refuse } from '../refusal.ts';
import { lastPlace, placeWithin, powerOfTen } from './decimal-step.ts';
import { compare, decimalFraction, dividedBy, type Fraction, isPlainDecimal, minus, plus, times } from './fraction.ts';
import { textAtPlace } from './fraction-text.ts';
import type { Unit } from './unit.ts';
import { UNITS, unitWithCode } from './unit-list.ts';

export interface Converted {
  /** With no more digits than the value as entered supports. */
  readonly text: string;
  /** What the last digit of the text that counts stands for: "0.001", or "100" where the text ends in mere zeros. */
  readonly step: string;
  /** Before rounding. */
  readonly exact: Fraction;
}

function noSuchUnit(code: string): Refusal {
  const meant = UNITS.filter((unit) => unit.written.toLowerCase() === code.toLowerCase());
  const codes = (meant.length > 0 ? meant : UNITS).map((unit) => `${unit.code} (${unit.name})`).join(', ');
  return refuse(`"${code}" is no code of a unit here: give one of ${codes}.`);
}

function whyNever(from: Unit, to: Unit): string | undefined {
  if (from.code === to.code) return undefined;
  if (from.quantity !== to.quantity)
    return `${from.name} measures ${from.quantity} and ${to.name} measures ${to.quantity}: give two units of one quantity.`;
  const alone = from.alone ?? to.alone;
  return alone === undefined ? undefined : `${alone}. Give the value in the unit of the meter.`;
}

const ZERO = decimalFraction('0');

function onScale(value: Fraction, from: Unit, to: Unit): Fraction {
  const base = plus(times(value, from.factor), from.zero ?? ZERO);
  return dividedBy(minus(base, to.zero ?? ZERO), to.factor);
}

function asDifference(value: Fraction, from: Unit, to: Unit): Fraction {
  return dividedBy(times(value, from.factor), to.factor);
}

/**
 * The place of the last honest digit: the largest power of ten that is not more than what one step of the entered value
 * is in the new unit. Rounding there loses less than half a step, so that the way back gives the entered digits again,
 * and shows no digit that was not read: 1.50 ft, read to 0.01 ft = 0.003 m, is 0.457 m. Kelvins of a tenth of a degree
 * Celsius end in 5 hundredths: there one place more is kept, or half a step would be lost.
 */
function honestPlace(way: typeof onScale, text: string, from: Unit, to: Unit): number {
  const step = asDifference(powerOfTen(lastPlace(text)), from, to);
  const place = placeWithin(step);
  const shifted = way(ZERO, from, to).over !== 0n;
  return shifted && compare(powerOfTen(place), step) === 0 ? place - 1 : place;
}

function convertBy(way: typeof onScale, text: string, fromCode: string, toCode: string): Converted | Refusal {
  if (!isPlainDecimal(text)) return refuse(`"${text}" is no plain decimal: give one such as "1.50".`);
  const from = unitWithCode(fromCode);
  if (from === undefined) return noSuchUnit(fromCode);
  const to = unitWithCode(toCode);
  if (to === undefined) return noSuchUnit(toCode);
  const never = whyNever(from, to);
  if (never !== undefined) return refuse(never);
  const exact = way(decimalFraction(text), from, to);
  const place = honestPlace(way, text, from, to);
  return { text: textAtPlace(exact, place), step: textAtPlace(powerOfTen(place), Math.min(place, 0)), exact };
}

/**
 * A measured value in another unit of the same quantity, by the exact factor, with honest digits.
 *
 * Source: definitions of the units (each names its own); the rule for digits is our own, in the spirit of NIST SP 811,
 * 2008 edition, appendix B.7 (from memory). Limits: a concentration is never parts per million, and a turbidity never
 * changes its unit.
 *
 * @param valueText as entered: '1.50' is not '1.5'
 * @param fromCode code of the unit in UCUM
 * @example convertUnit('1.50', '[ft_i]', 'm') // { text: '0.457', step: '0.001', exact: 1143/2500 }
 */
export function convertUnit(valueText: string, fromCode: string, toCode: string): Converted | Refusal {
  return convertBy(onScale, valueText, fromCode, toCode);
}

/**
 * A difference, step or tolerance in another unit. Only for temperatures is it another thing than a value: a tolerance of
 * 1.0 °F is 0.56 °C, while 1.0 °F on the scale is -17.22 °C.
 *
 * @example convertDifference('1.0', '[degF]', 'Cel') // { text: '0.56', step: '0.01', exact: 5/9 }
 */
export function convertDifference(differenceText: string, fromCode: string, toCode: string): Converted | Refusal {
  return convertBy(asDifference, differenceText, fromCode, toCode);
}
