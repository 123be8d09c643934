import type { BlankRecord } from '../samples/sample-records.ts';
import { type AdoptedSample, asAdopted } from './adopted-samples.ts';
import type { WantedBlank } from './blanks.ts';
import { oneLaboratory, type PlanningWells } from './planning-wells.ts';
import type { PlannedType } from './proposed.ts';

export interface BlanksLeft {
  /** What is still to be planned. */
  readonly wanted: readonly WantedBlank[];
  /** Taken without a plan for what the plan asks for. */
  readonly adopted: readonly AdoptedSample[];
  /** How many of those that were asked for they do for whole. */
  readonly done: number;
}

/** Suites that a blank is still free to do for. One that names none does for all that is asked where it was taken. */
type Free = Map<BlankRecord, ReadonlySet<string> | null>;

/** What of the suites a blank does for; it does for each of them once. */
function doesFor(free: Free, blank: BlankRecord, suites: readonly string[]): readonly string[] {
  const its = free.get(blank);
  if (its === undefined) return [];
  return its === null ? suites : suites.filter((suite) => its.has(suite));
}

function use(free: Free, blank: BlankRecord, suites: readonly string[]): void {
  const its = free.get(blank);
  if (its) free.set(blank, new Set([...its].filter((suite) => !suites.includes(suite))));
  else free.delete(blank);
}

/** The same blank, for the suites that are left of it. */
function forSuites(one: WantedBlank, suites: readonly string[]): WantedBlank {
  if (suites.length === one.suites.length) return one;
  const bottles = one.bottles.filter(({ suite }) => suite === null || suites.includes(suite));
  return { ...one, suites, bottles, laboratory: oneLaboratory(bottles) };
}

/**
 * Blanks of a type that were taken without a plan do for what is asked for, each for the suites that it has: what is left
 * of those is planned, and one blank may do for several of what is asked for.
 */
export function adoptBlanks(on: PlanningWells, type: PlannedType, wanted: readonly WantedBlank[]): BlanksLeft {
  const taken = on.facts.samples.blanks.filter(
    ({ id, fields }) => `${fields.type}-blank` === type && !on.standing.plannedOf.has(id),
  );
  const free: Free = new Map(
    taken.map((one) => [one, one.fields.suites.length === 0 ? null : new Set(one.fields.suites)]),
  );
  const adopted = new Map<BlankRecord, AdoptedSample>();
  const left = wanted.flatMap((one) => {
    let suites = one.suites;
    for (const blank of taken.filter((its) => one.isDoneBy?.(its) ?? false)) {
      const its = doesFor(free, blank, suites);
      if (its.length === 0) continue;
      use(free, blank, its);
      suites = suites.filter((suite) => !its.includes(suite));
      if (!adopted.has(blank)) adopted.set(blank, asAdopted(on, blank, { type, well: null, crew: one.crew }));
    }
    return suites.length === 0 ? [] : [forSuites(one, suites)];
  });
  return { wanted: left, adopted: [...adopted.values()], done: wanted.length - left.length };
}
