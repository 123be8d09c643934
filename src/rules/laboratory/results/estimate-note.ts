import { compareText } from '../../../science/units/decimal-arithmetic.ts';
import type { ResultLine } from './result-line.ts';
import { ESTIMATED } from './result-qualifiers.ts';

/**
 * What is to be asked of a value below its reporting limit: it is an estimate, and is to be marked as one. Source: US EPA,
 * Water Quality Exchange, domain list of result measure qualifiers, version 3.0.209, code J (estimated); null where it is.
 */
export function estimateNote({ cells: { value, reportingLimit }, qualifiers, condition }: ResultLine): string | null {
  if (value === undefined || reportingLimit === undefined || condition === 'not-detected') return null;
  if (compareText(value, reportingLimit) >= 0) {
    return condition === 'below-reporting-limit' ? `it is not below its reporting limit ${reportingLimit}` : null;
  }
  if (condition === 'detected') return `it is below its reporting limit ${reportingLimit}, and said to be detected`;
  if (qualifiers.some((code) => ESTIMATED.includes(code))) return null;
  return `it is below its reporting limit ${reportingLimit}, and no J says that it is an estimate`;
}
