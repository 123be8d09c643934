import type { PlanningWells } from './planning-wells.ts';

/** What QC depends on, in words, as far as it is missing; null where nothing is. */
export interface Missing {
  readonly suites: string | null;
  /** Suites that are named and are no record: what is in their bottles is not known. */
  readonly groups: string | null;
  readonly coolers: string | null;
}

/** What keeps one from telling what QC is owed: that nothing is owed is another thing than that nobody can say. */
export function whatIsMissing({ wells, book, facts }: PlanningWells): Missing {
  const { samples, coolers, event } = facts.samples;
  const named = new Set([...wells.flatMap((one) => one.suites), ...samples.flatMap(({ fields }) => fields.suites)]);
  const unknown = [...named].filter((suite) => !book.suites.has(suite)).toSorted();
  const noSuites =
    'no suite is named for any well of the event, and no sample was taken: name suites in its assignments, or in the sampling plan of the event';
  const noPlan = event.fields.plan.sampling ? '' : ' (it has no sampling plan)';
  return {
    suites: named.size === 0 ? `${noSuites}${noPlan}` : null,
    groups:
      unknown.length === 0
        ? null
        : `what is analysed for ${unknown.map((one) => JSON.stringify(one)).join(', ')} is not on record: record the suite (POST /v1/analyte-suites), or correct its name`,
    coolers: coolers.length === 0 ? 'no cooler is on record, and one is owed in each that needs it' : null,
  };
}
