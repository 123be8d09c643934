import { dayOf } from '../custody/clocks.ts';
import type { WellToSample } from './plan-wells.ts';
import type { PlanningFacts } from './planning-facts.ts';
import type { Reconciling } from './reconcile-sample.ts';
import { knownSuites } from './suite-book.ts';
import { type Bottle, bottlesFor } from './wanted-bottles.ts';
import type { WellOutlook } from './well-outlook.ts';

export interface PlanningWells extends Reconciling {
  readonly facts: PlanningFacts;
  readonly wells: readonly WellToSample[];
  readonly outlooks: ReadonlyMap<string, WellOutlook>;
}

export function bottlesAt(on: PlanningWells, names: readonly string[], well: string | null): readonly Bottle[] {
  return bottlesFor({ suites: knownSuites(on.book, names), plan: on.plan, well, book: on.book });
}

/** Where all of its containers go to one laboratory, that one. */
export function oneLaboratory(bottles: readonly Bottle[]): string | null {
  const [first, ...others] = new Set(bottles.map(({ laboratory }) => laboratory));
  return others.length === 0 ? (first ?? null) : null;
}

/** The calendar day at the site: a phone may write an instant with another offset than the one there. */
export function dayAtSite({ facts }: Pick<PlanningWells, 'facts'>, at: string): string {
  return dayOf(at, facts.samples.site?.fields.timeZone ?? null);
}
