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

function plannedOf({ samples: { samples, blanks, containers, visits, plannedSamples } }: PlanningFacts) {
  const living = new Set(plannedSamples.map(({ id }) => id));
  const wells = new Map(visits.map(({ id, fields }) => [id, fields.well]));
  const byNumber = new Map(plannedSamples.map(({ id, fields }) => [`${fields.well} ${fields.number}`, id]));
  const found = new Map<string, string>();
  for (const { id, fields } of samples) {
    const numbered = byNumber.get(`${wells.get(fields.visit)} ${fields.number}`);
    if (numbered !== undefined) found.set(id, numbered);
  }
  const ofBlanks = new Map(plannedSamples.map(({ id, fields }) => [`${fields.type} ${fields.number}`, id]));
  for (const { id, fields } of blanks) {
    const numbered = ofBlanks.get(`${fields.type}-blank ${fields.number}`);
    if (numbered !== undefined) found.set(id, numbered);
  }
  for (const { fields } of containers) {
    const holder = fields.sample ?? fields.blank;
    if (holder !== undefined && fields.planned !== undefined && living.has(fields.planned))
      found.set(holder, fields.planned);
  }
  for (const { id, fields } of [...samples, ...blanks])
    if (fields.planned !== undefined && living.has(fields.planned)) found.set(id, fields.planned);
  return found;
}

function takenIds({ samples: { containers } }: PlanningFacts, of: ReadonlyMap<string, string>): ReadonlySet<string> {
  const filled = containers.filter(
    ({ fields: { sample, blank, standing } }) =>
      sample !== undefined || blank !== undefined || standing === 'filled' || standing === 'discarded',
  );
  return new Set([...of.values(), ...filled.flatMap(({ fields }) => fields.planned ?? [])]);
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
  const of = plannedOf(facts);
  return { planned, containersOf, taken: takenIds(facts, of), plannedOf: of };
}
