import { type Refusal, refuse } from '../refusal.ts';

/**
 * Salinity from specific conductance: S = 5.572e-4 SC + 2.02e-9 SC^2.
 *
 * Source: US Geological Survey, technical memorandum 2011.03, and its field manual, chapter 6.2 (from memory; the same in
 * a public implementation). Limits: 0 to 59,000 µS/cm, where S reaches 40. For fresh water it is a sixth above the
 * practical scale of 1978 (0.559 against 0.492 at 1,000 µS/cm), which was made for sea salt: less
 * than 0.01 mg/L of oxygen.
 *
 * @param specificConductanceUsPerCm at 25 °C
 * @example salinityOfConductance(1_000) // 0.559
 */
export function salinityOfConductance(specificConductanceUsPerCm: number): number | Refusal {
  if (!(specificConductanceUsPerCm >= 0 && specificConductanceUsPerCm <= 59_000))
    return refuse(
      `A specific conductance of ${specificConductanceUsPerCm} µS/cm is outside 0 to 59,000, where salinity stays within 40: give the salinity itself, or leave it out.`,
    );
  return 5.572e-4 * specificConductanceUsPerCm + 2.02e-9 * specificConductanceUsPerCm ** 2;
}
