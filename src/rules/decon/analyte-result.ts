import {
  compare,
  decimalFraction,
  dividedBy,
  type Fraction,
  isPlainDecimal,
  times,
} from '../../science/units/fraction.ts';
import { unitWithCode } from '../../science/units/unit-list.ts';

/** A result of the laboratory for one analyte, of a sample or of a blank. */
export interface AnalyteResult {
  readonly analyte: string;
  readonly casNumber?: string | null | undefined;
  /** A decimal string; missing where nothing was detected, or no figure is given. */
  readonly value?: string | null | undefined;
  readonly unit: string;
  readonly reportingLimit?: string | null | undefined;
  readonly condition: 'detected' | 'not-detected' | 'below-reporting-limit' | 'not-reported';
}

/** A plain decimal, or null where there is none to compare. */
export function decimalOf(text: string | null | undefined): string | null {
  return text && isPlainDecimal(text) ? text : null;
}

/** The code of a concentration however laboratories write it: µg/L, μg/l and UG/L are one. Null where it is none. */
export function unitCode(written: string): string | null {
  const plain = written.trim().toLowerCase().replace(/[µμ]/g, 'u').replace(/l$/, 'L');
  const unit = unitWithCode(plain);
  return unit?.quantity === 'concentration' ? unit.code : null;
}

/** "0.8 µg/L": a value with its unit as it is shown. */
export function shownResult(value: string, unit: string): string {
  const code = unitCode(unit);
  return `${value} ${(code && unitWithCode(code)?.written) ?? unit}`;
}

/** How many of unit b one of unit a is; null where they measure different things, or one is not known. */
export function perUnit(a: string, b: string): Fraction | null {
  if (a === b) return decimalFraction('1');
  const [from, to] = [unitCode(a), unitCode(b)].map((code) => (code === null ? undefined : unitWithCode(code)));
  if (!from || !to) return null;
  return dividedBy(from.factor, to.factor);
}

export interface Amount {
  readonly value: string;
  readonly unit: string;
}

/** The figure of a result; null where it has none. */
export function amountOf({ value, unit }: Pick<AnalyteResult, 'value' | 'unit'>): Amount | null {
  const plain = decimalOf(value);
  return plain === null ? null : { value: plain, unit };
}

/** Whether one is at most the other, exactly; not where their units cannot be compared. */
export function isAtMost(a: Amount, b: Amount): boolean {
  const per = perUnit(a.unit, b.unit);
  return per !== null && compare(times(decimalFraction(a.value), per), decimalFraction(b.value)) <= 0;
}
