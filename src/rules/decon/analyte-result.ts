import { isPlainDecimal } from '../../science/units/fraction.ts';
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
