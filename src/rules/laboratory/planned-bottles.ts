import { spikeBottles } from '../sampling-plan/spike-bottles.ts';
import { knownSuites, suiteBook } from '../sampling-plan/suite-book.ts';
import { type Bottle, bottlesFor } from '../sampling-plan/wanted-bottles.ts';
import type { ToldToLaboratory } from './laboratory-list.ts';

/** A bottle that the office has planned for a laboratory. */
export interface PlannedBottle {
  readonly planned: string;
  readonly bottle: Bottle;
}

/**
 * The bottles that were planned for a laboratory. They follow from what the office planned, and from no container: crews make
 * and fill those, and a number that rose while somebody filled a blind duplicate would say at which well that was.
 */
export function plannedBottles({ laboratory, world: { of } }: ToldToLaboratory): readonly PlannedBottle[] {
  const book = suiteBook(of);
  const plan = of.event.fields.plan.sampling ?? null;
  return of.plannedSamples.flatMap(({ id, fields }) => {
    if (fields.standing !== 'planned') return [];
    const suites = knownSuites(book, fields.suites);
    const bottles = bottlesFor({ suites, plan, well: null, book });
    return (fields.type === 'matrix-spike' ? spikeBottles(bottles) : bottles)
      .filter((bottle) => (fields.laboratory ?? bottle.laboratory) === laboratory)
      .map((bottle) => ({ planned: id, bottle }));
  });
}
