import { byKey } from '../equipment/by-key.ts';
import { plannedLinks } from '../samples/planned-links.ts';
import type { ContainerRecord, PlannedRecord } from '../samples/sample-records.ts';
import type { PlanningFacts } from './planning-facts.ts';

/** What is planned already, and how far it got. */
export interface EventStanding {
  readonly planned: ReadonlyMap<string, PlannedRecord>;
  readonly containersOf: ReadonlyMap<string, readonly ContainerRecord[]>;
  /** Planned samples of which water was taken. */
  readonly taken: ReadonlySet<string>;
  /** Of each sample and blank the planned one that it is: which it names, or its bottles, or which has its number there. */
  readonly plannedOf: ReadonlyMap<string, string>;
}

function takenIds({ samples: { containers } }: PlanningFacts, of: ReadonlyMap<string, string>): ReadonlySet<string> {
  const filled = containers.filter(
    ({ fields: { sample, blank, standing } }) =>
      sample !== undefined || blank !== undefined || standing === 'filled' || standing === 'discarded',
  );
  return new Set([...of.values(), ...filled.flatMap(({ fields }) => fields.planned ?? [])]);
}

export function eventStanding(facts: PlanningFacts): EventStanding {
  const containersOf = byKey(facts.samples.containers, ({ fields }) => fields.planned);
  const planned = new Map(facts.samples.plannedSamples.map((one) => [one.id, one]));
  const of = plannedLinks(facts.samples);
  return { planned, containersOf, taken: takenIds(facts, of), plannedOf: of };
}
