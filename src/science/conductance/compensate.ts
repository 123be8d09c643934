import { type Refusal, refuse } from '../refusal.ts';

function whyNot(conductivityUsPerCm: number, factor: number): Refusal | undefined {
  if (!(conductivityUsPerCm >= 0 && Number.isFinite(conductivityUsPerCm)))
    return refuse(`A conductivity of ${conductivityUsPerCm} µS/cm is none: give 0 or more.`);
  if (!(factor > 0 && Number.isFinite(factor)))
    return refuse(`A factor of ${factor} compensates nothing: give one above 0.`);
  return undefined;
}

/**
 * Specific conductance at 25 °C from the conductivity at the temperature of the water, by a factor to 25 °C.
 *
 * Source: definition. Limits: those of the factor.
 *
 * @example specificConductanceUsPerCm(500, 1.428) // 714.0
 */
export function specificConductanceUsPerCm(conductivityUsPerCm: number, factor: number): number | Refusal {
  return whyNot(conductivityUsPerCm, factor) ?? conductivityUsPerCm * factor;
}

/**
 * The way back: the conductivity at the temperature of the water, which a meter had before it compensated.
 *
 * Source: definition. Limits: those of the factor, which must be of the method that the meter used.
 *
 * @example rawConductivityUsPerCm(714, 1.428) // 500.0
 */
export function rawConductivityUsPerCm(specificConductance: number, factor: number): number | Refusal {
  return whyNot(specificConductance, factor) ?? specificConductance / factor;
}
