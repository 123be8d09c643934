import { type Refusal, refuse } from '../refusal.ts';
import { compareText, differenceText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';

/**
 * What is left between a pump and its casing, on both sides together: inside diameter of the casing less the diameter of
 * the pump. At 0 or below it does not go in.
 *
 * Source: geometry, exact. Limits: a straight round casing without a joint or a bend; lines beside the pump need room as
 * well. Try it with a dummy of the same size where a pump would be lost.
 *
 * @example pumpClearanceIn('2.067', '1.66') // '0.407'
 */
export function pumpClearanceIn(casingInsideDiameterIn: string, pumpDiameterIn: string): string | Refusal {
  const unread = unreadable({ casingInsideDiameterIn, pumpDiameterIn });
  if (unread) return unread;
  if (compareText(casingInsideDiameterIn, '0') <= 0 || compareText(pumpDiameterIn, '0') <= 0)
    return refuse(
      `A casing of ${casingInsideDiameterIn} in and a pump of ${pumpDiameterIn} in: give both diameters above 0.`,
    );
  return differenceText(casingInsideDiameterIn, pumpDiameterIn);
}
