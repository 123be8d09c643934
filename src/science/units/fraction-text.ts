import { decimalText } from '../millionths.ts';
import { powerOfTen } from './decimal-step.ts';
import { dividedBy, type Fraction } from './fraction.ts';

/** A fraction rounded to a whole number, halves away from zero, as meters and people do. */
function wholeHalfAway({ over, under }: Fraction): bigint {
  const size = over < 0n ? -over : over;
  const rounded = (2n * size + under) / (2n * under);
  return over < 0n ? -rounded : rounded;
}

/** A fraction as a decimal string whose last digit stands at a power of ten: 0.4572 at -3 is "0.457". */
export function textAtPlace(value: Fraction, place: number): string {
  const steps = wholeHalfAway(dividedBy(value, powerOfTen(place)));
  return place >= 0 ? String(steps * 10n ** BigInt(place)) : decimalText(steps, -place);
}
