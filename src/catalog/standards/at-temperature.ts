import { type Refusal, refuse } from '../../science/refusal.ts';
import { compareText } from '../../science/units/decimal-arithmetic.ts';
import { lastPlace } from '../../science/units/decimal-step.ts';
import { decimalFraction, dividedBy, type Fraction, minus, plus, times } from '../../science/units/fraction.ts';
import { textAtPlace } from '../../science/units/fraction-text.ts';
import { unreadable } from '../../science/units/unreadable.ts';
import type { StandardTable } from './standard-table.ts';

export interface AtTemperature {
  /** With the places of the table. */
  readonly text: string;
  readonly exact: Fraction;
  /** How it was found, as part of a sentence. */
  readonly how: string;
}

/** A line is drawn between two values no further apart than this; a longer gap says nothing of what lies in it. */
const LONGEST_GAP_C = '5';

type Point = StandardTable['points'][number];

function between(below: Point, above: Point, temperatureC: string): AtTemperature {
  const [lowC, low] = [decimalFraction(below[0]), decimalFraction(below[1])];
  const share = dividedBy(minus(decimalFraction(temperatureC), lowC), minus(decimalFraction(above[0]), lowC));
  const exact = plus(low, times(share, minus(decimalFraction(above[1]), low)));
  const place = Math.max(lastPlace(below[1]), lastPlace(above[1]));
  return { text: textAtPlace(exact, place), exact, how: `between ${below[0]} and ${above[0]} °C on a straight line` };
}

function outside(table: StandardTable, temperatureC: string): Refusal {
  const known = table.points.map(([celsius]) => celsius);
  const range = known.length > 1 ? `from ${known[0]} to ${known.at(-1)} °C` : `at ${known[0]} °C only`;
  return refuse(`${table.name}: values are known ${range}, and ${temperatureC} °C is not among them.`);
}

function isWide(below: Point, above: Point): boolean {
  return compareText(String(Number(above[0]) - Number(below[0])), LONGEST_GAP_C) > 0;
}

/**
 * The value of a table at a temperature, exact in decimal: as printed where the temperature is in the table, else on a
 * straight line between its neighbours, rounded to the places that the table prints. Nothing is read beyond the ends, nor
 * across a gap of more than 5 °C.
 *
 * @example atTemperature(PHOSPHATE_686, '12.5') // text: '6.91'
 */
export function atTemperature(table: StandardTable, temperatureC: string): AtTemperature | Refusal {
  const unread = unreadable({ temperatureC });
  if (unread) return unread;
  const at = table.points.findIndex(([celsius]) => compareText(celsius, temperatureC) >= 0);
  const above = table.points[at];
  if (above === undefined) return outside(table, temperatureC);
  if (compareText(above[0], temperatureC) === 0)
    return { text: above[1], exact: decimalFraction(above[1]), how: `as printed for ${above[0]} °C` };
  const below = table.points[at - 1];
  if (below === undefined) return outside(table, temperatureC);
  if (isWide(below, above))
    return refuse(
      `${table.name}: nothing is printed between ${below[0]} and ${above[0]} °C, and a line across so wide a gap would be a guess.`,
    );
  return between(below, above, temperatureC);
}
