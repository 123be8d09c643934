import { type Refusal, refuse } from '../refusal.ts';

/** What goes into a bottle to preserve it. */
export interface PreservativeDose {
  readonly solutionMl: number;
  readonly molPerL: number;
  readonly gramsPerMol: number;
}

/**
 * Common practice, no source: the density of the solution that is added. Only its mass
 * in the denominator hangs on it, so that 1.0 or 1.4 changes the percentage by less than a hundredth of itself.
 */
export const SOLUTION_GRAMS_PER_ML = 1.2;
const WATER_GRAMS_PER_ML = 1;

/**
 * Acid or base in a preserved sample, in percent by weight: 100 m / (water + solution).
 *
 * Source: the form of the limits of 40 CFR 136.3, Table II, footnote 3, percent by weight. Limits: dilute water of 1 g/mL.
 *
 * @example percentByWeight({ solutionMl: 5, molPerL: 5, gramsPerMol: 40 }, 240) // 0.4065
 */
export function percentByWeight(dose: PreservativeDose, waterMl: number): number | Refusal {
  const { solutionMl, molPerL, gramsPerMol } = dose;
  const odd = Object.entries({ solutionMl, molPerL, gramsPerMol, waterMl }).find(
    ([, given]) => !(given >= 0 && Number.isFinite(given)),
  );
  if (odd) return refuse(`${odd[0]} of ${odd[1]} is no amount: give 0 or more.`);
  const totalGrams = waterMl * WATER_GRAMS_PER_ML + solutionMl * SOLUTION_GRAMS_PER_ML;
  if (totalGrams === 0) return refuse('An empty bottle has no percentage: give the water or the solution in it.');
  return ((solutionMl / 1_000) * molPerL * gramsPerMol * 100) / totalGrams;
}

/** Whether a bottle stays at or below a limit of transport; above it, the shipper classifies it. */
export function isWithinTransport(dose: PreservativeDose, waterMl: number, atMostPercent: string): boolean | Refusal {
  const percent = percentByWeight(dose, waterMl);
  return typeof percent === 'number' ? percent <= Number(atMostPercent) : percent;
}
