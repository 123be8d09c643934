import { type Refusal, refuse } from '../refusal.ts';
import { compareText } from '../units/decimal-arithmetic.ts';
import { lastPlace } from '../units/decimal-step.ts';
import { decimalFraction, dividedBy, times } from '../units/fraction.ts';
import { textAtPlace } from '../units/fraction-text.ts';
import { unreadable } from '../units/unreadable.ts';

export interface ReportedTurbidity {
  /** In the unit of the meter, as before. */
  readonly text: string;
  readonly step: string;
}

/** Below which turbidity which step holds. */
const STEPS: readonly (readonly [below: string, step: string])[] = [
  ['1', '0.05'],
  ['10', '0.1'],
  ['40', '1'],
  ['100', '5'],
  ['400', '10'],
  ['1000', '50'],
];
const COARSEST = '100';

function stepFor(turbidity: string): string {
  return STEPS.find(([below]) => compareText(turbidity, below) < 0)?.[1] ?? COARSEST;
}

function toStep(turbidity: string, step: string): string {
  const unit = decimalFraction(step);
  const steps = decimalFraction(textAtPlace(dividedBy(decimalFraction(turbidity), unit), 0));
  return textAtPlace(times(steps, unit), Math.min(lastPlace(step), 0));
}

/**
 * A turbidity rounded to the step in which it is reported: 0.05 to 1, 0.1 to 10, 1 to 40, 5 to 100, 10 to 400, 50 to
 * 1,000, 100 above. At a boundary the coarser step holds; one that rounds up to a boundary takes the step from there.
 *
 * Source: Standard Methods 2130 B and EPA method 180.1, for NTU (from memory). Limits: 0 or more. EPA 180.1 measures up
 * to 40 NTU and dilutes above. Rounding is for the report: stability is judged on what was read.
 *
 * @example reportedTurbidity('7.23') // text: '7.2', step: '0.1'
 */
export function reportedTurbidity(turbidity: string): ReportedTurbidity | Refusal {
  const unread = unreadable({ turbidity });
  if (unread) return unread;
  if (compareText(turbidity, '0') < 0)
    return refuse(`A turbidity of ${turbidity} is below zero: clean the cell, check the zero and read again.`);
  const rounded = toStep(turbidity, stepFor(turbidity));
  const step = stepFor(rounded);
  return { text: toStep(rounded, step), step };
}

/** Whether a turbidity is above what EPA method 180.1 measures undiluted, 40 NTU. */
export function isAboveNephelometricRange(turbidityNtu: string): boolean {
  return compareText(turbidityNtu, '40') > 0;
}
