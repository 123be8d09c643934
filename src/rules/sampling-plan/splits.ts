import { isDroppedByPlan } from './plan-reasons.ts';
import { bottlesAt, type PlanningWells } from './planning-wells.ts';
import type { ProposedSample, Wanted } from './proposed.ts';
import { sampleOfPerson, unwantedSample, wantedSample } from './reconcile-sample.ts';

/** A split of each sample of a well for the laboratory of another party, where the plan says so. */
export function splits(on: PlanningWells, normals: readonly ProposedSample[]): readonly ProposedSample[] {
  const splitWith = new Map(on.wells.map(({ well, splitWith: laboratory }) => [well.id, laboratory]));
  const wanted = normals.flatMap((parent): Wanted[] => {
    const laboratory = parent.well === null ? null : (splitWith.get(parent.well) ?? null);
    if (laboratory === null) return [];
    const bottles = bottlesAt(on, parent.suites, parent.well).map((bottle) => ({ ...bottle, laboratory }));
    const { well, crew, suites, id: of } = parent;
    return [{ id: on.ids.of('split', of), type: 'split', well, of, crew, laboratory, suites, bottles }];
  });
  const ids = new Set(wanted.map(({ id }) => id));
  const rest = on.facts.samples.plannedSamples.filter(({ id, fields }) => fields.type === 'split' && !ids.has(id));
  return [
    ...wanted.map((one) => splitWanted(one, on)),
    ...rest.map((record) =>
      record.id === on.ids.of('split', record.fields.of ?? '')
        ? unwantedSample(record, 'no split of its sample is asked for any more', on)
        : sampleOfPerson(record, bottlesAt(on, record.fields.suites, record.fields.well ?? null), on),
    ),
  ];
}

/** What a person dropped stays dropped. */
function splitWanted(wanted: Wanted, on: PlanningWells): ProposedSample {
  const record = on.standing.planned.get(wanted.id);
  const isDropped = record?.fields.standing === 'dropped' && !isDroppedByPlan(record.fields.droppedBecause);
  return record && isDropped ? unwantedSample(record, '', on) : wantedSample(wanted, on);
}
