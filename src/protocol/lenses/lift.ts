import type { Given, Lens } from './lens.ts';

/** A mutation of an older version as the version `to` writes it: through every lens between the two, in order. */
export function lift(mutation: Given, from: number, to: number, lenses: readonly Lens[]): Given {
  const steps = lenses.filter((lens) => lens.from >= from && lens.from < to);
  return steps.toSorted((a, b) => a.from - b.from).reduce((lifted, lens) => lens.lift(lifted), mutation);
}
