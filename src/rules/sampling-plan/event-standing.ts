import type { ContainerRecord, PlannedRecord } from '../samples/sample-records.ts';
import type { PlanningFacts } from './planning-facts.ts';

/** What is planned already, and how far it got. */
export interface EventStanding {
  readonly planned: ReadonlyMap<string, PlannedRecord>;
  readonly containersOf: ReadonlyMap<string, readonly ContainerRecord[]>;
  /** Planned samples of which water was taken. */
  readonly taken: ReadonlySet<string>;
}

function takenIds({ samples: { samples, blanks, containers } }: PlanningFacts): ReadonlySet<string> {
  const filled = containers.filter(
    ({ fields: { sample, blank, standing } }) =>
      sample !== undefined || blank !== undefined || standing === 'filled' || standing === 'discarded',
  );
  return new Set([...samples, ...blanks, ...filled].flatMap(({ fields }) => fields.planned ?? []));
}

export function eventStanding(facts: PlanningFacts): EventStanding {
  const containersOf = new Map<string, ContainerRecord[]>();
  for (const container of facts.samples.containers) {
    const { planned } = container.fields;
    if (planned === undefined) continue;
    const its = containersOf.get(planned);
    if (its) its.push(container);
    else containersOf.set(planned, [container]);
  }
  const planned = new Map(facts.samples.plannedSamples.map((one) => [one.id, one]));
  return { planned, containersOf, taken: takenIds(facts) };
}
