import { type Refusal, refuse } from '../refusal.ts';
import { compareText, productText, sumText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';

/** Weight of a foot of water, in psi: hydrostatics, water of 4 to 15 °C (0.43352 to 0.43314, computed from density). */
export const PSI_PER_FT_OF_WATER = '0.4335';

export interface DrivePressure {
  readonly rule: 'depth-and-feet-of-water' | 'hydrostatic-and-allowance' | 'half-psi-a-foot';
  /** Gauge pressures, exact; equal where the rule gives one figure. */
  readonly fromPsi: string;
  readonly toPsi: string;
}

function whyNot(given: Readonly<Record<string, string>>): Refusal | undefined {
  const unread = unreadable(given);
  if (unread) return unread;
  const wrong = Object.entries(given).find(([, text]) => compareText(text, '0') < 0);
  return wrong && refuse(`${wrong[0]} of ${wrong[1]} is below 0: give the depth of the pump below the outlet.`);
}

/**
 * Least pressure of the gas that squeezes a bladder: the water column from pump to outlet, 0.4335 psi a foot, and an
 * allowance for friction and for the bladder to move at all. The depth is that of the pump, not of the water: the upper
 * check valve keeps the line standing full, so that each stroke lifts the whole column.
 *
 * Source: hydrostatics; the allowance is for the plan, 10 psi by common practice (no source). Limits: gauge pressure,
 * fresh water.
 *
 * @param pumpBelowOutletFt from the pump up to where the water leaves the line
 * @example hydrostaticDrivePressure('100', '10') // 53.35 psi
 */
export function hydrostaticDrivePressure(pumpBelowOutletFt: string, allowancePsi: string): DrivePressure | Refusal {
  const wrong = whyNot({ pumpBelowOutletFt, allowancePsi });
  if (wrong) return wrong;
  const psi = sumText(productText(PSI_PER_FT_OF_WATER, pumpBelowOutletFt), allowancePsi);
  return { rule: 'hydrostatic-and-allowance', fromPsi: psi, toPsi: psi };
}

/**
 * The field rule: half a psi a foot of pump depth and 10 psi. It lies above the physical least at every depth.
 *
 * Source: common practice, no source. Limits: gauge pressure, never above the rating of the weakest part.
 *
 * @example halfPsiAFootDrivePressure('100') // 60.0 psi
 */
export function halfPsiAFootDrivePressure(pumpBelowOutletFt: string): DrivePressure | Refusal {
  const wrong = whyNot({ pumpBelowOutletFt });
  if (wrong) return wrong;
  const psi = sumText(productText('0.5', pumpBelowOutletFt), '10');
  return { rule: 'half-psi-a-foot', fromPsi: psi, toPsi: psi };
}

/**
 * The rule in feet of water: 10 to 20 ft more than the depth of the pump, which gives roughly 200 mL/min.
 *
 * Source: common practice, no source. Limits: as above.
 *
 * @example feetOfWaterDrivePressure('50') // 26.01 to 30.345 psi, that is 60 to 70 ft of water
 */
export function feetOfWaterDrivePressure(pumpBelowOutletFt: string): DrivePressure | Refusal {
  const wrong = whyNot({ pumpBelowOutletFt });
  if (wrong) return wrong;
  const psi = (moreFt: string) => productText(PSI_PER_FT_OF_WATER, sumText(pumpBelowOutletFt, moreFt));
  return { rule: 'depth-and-feet-of-water', fromPsi: psi('10'), toPsi: psi('20') };
}
