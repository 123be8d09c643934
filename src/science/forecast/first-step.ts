/** When something first happens, over many draws. */
export interface FirstSteps {
  /** Part of the draws in which it happened at all. */
  readonly share: number;
  /**
   * The first step by which it had happened in so large a part of the draws; null where it had not by the last step.
   *
   * @param part 0.5 for the middle one
   */
  readonly by: (part: number) => number | null;
}

/**
 * Gathers first steps: of 1, 2, 2 and one draw in which nothing happened, half had happened by step 2, and nine in ten by
 * no step.
 *
 * Source: empirical quantiles, arithmetic.
 *
 * @param firsts the step of each draw, counted from 0; null where it did not happen
 */
export function firstSteps(firsts: readonly (number | null)[]): FirstSteps {
  const happened = firsts.filter((first) => first !== null).toSorted((a, b) => a - b);
  return {
    share: happened.length / firsts.length,
    by: (part) => happened[Math.max(0, Math.ceil(part * firsts.length) - 1)] ?? null,
  };
}

/**
 * For each step to come, whether the window that ends there passes.
 *
 * @param before the readings of the window that were taken already, earliest first
 * @param coming the readings to come
 * @param size how many readings a window has
 */
export function passingSteps(
  before: readonly number[],
  coming: readonly number[],
  size: number,
  passes: (window: readonly number[]) => boolean,
): boolean[] {
  const all = [...before, ...coming];
  return coming.map((_, step) => {
    const end = before.length + step + 1;
    return end >= size && passes(all.slice(end - size, end));
  });
}
