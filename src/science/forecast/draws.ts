import type { Uniform } from './seeded-uniform.ts';

/**
 * A number of the standard normal distribution, from two uniform ones.
 *
 * Source: Box & Muller 1958, Annals of Mathematical Statistics 29, 610-611 (from memory).
 */
export function normalDraw(uniform: Uniform): number {
  const radius = Math.sqrt(-2 * Math.log(uniform()));
  return radius * Math.cos(2 * Math.PI * uniform());
}

/** A number of the chi-square distribution: a sum of so many squares of normal ones. */
export function chiSquareDraw(uniform: Uniform, degreesOfFreedom: number): number {
  let sum = 0;
  for (let count = 0; count < degreesOfFreedom; count += 1) sum += normalDraw(uniform) ** 2;
  return sum;
}
