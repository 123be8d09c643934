import { decimalFraction, type Fraction, isPlainDecimal, times } from '../../science/units/fraction.ts';
import { unitWithCode } from '../../science/units/unit-list.ts';
import { unitCode } from '../decon/analyte-result.ts';

/** A figure of a laboratory, comparable with others of the same measure. */
export interface Amount {
  /** Concentrations are brought to one unit; what else there is compares only with its own unit. */
  readonly measure: string;
  readonly amount: Fraction;
}

/** Undefined where there is no plain figure. */
export function amountOf(value: string | null | undefined, unit: string): Amount | undefined {
  if (!value || !isPlainDecimal(value)) return undefined;
  const code = unitCode(unit);
  const known = code === null ? undefined : unitWithCode(code);
  if (known?.quantity !== 'concentration') return { measure: unit.trim(), amount: decimalFraction(value) };
  return { measure: 'concentration', amount: times(decimalFraction(value), known.factor) };
}
