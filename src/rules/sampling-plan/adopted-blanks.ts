import type { BlankRecord } from '../samples/sample-records.ts';
import type { AdoptedSample } from './adopted-samples.ts';
import type { WantedBlank } from './blanks.ts';
import type { PlanningWells } from './planning-wells.ts';
import type { PlannedType, ProposedSample } from './proposed.ts';
import { reconcileContainers } from './reconcile-containers.ts';

export interface BlanksLeft {
  /** What is still to be planned. */
  readonly wanted: readonly WantedBlank[];
  /** Taken without a plan for what the plan asks for. */
  readonly adopted: readonly AdoptedSample[];
}

function asAdopted(on: PlanningWells, record: BlankRecord, type: PlannedType, crew: string | null): AdoptedSample {
  const { id, rev, fields } = record;
  const { number, suites, laboratory = null, remark = null } = fields;
  const its = on.facts.samples.containers.filter((one) => one.fields.blank === id);
  const of = { planned: id, event: on.event, laboratory, isFixed: true, because: '' };
  const sample: ProposedSample = {
    id,
    number,
    type,
    well: null,
    of: null,
    crew,
    laboratory,
    suites,
    remark,
    rev,
    standing: 'planned',
    droppedBecause: null,
    isTaken: true,
    isOfPerson: true,
    change: 'kept',
    set: null,
    containers: reconcileContainers(of, [], its, on),
  };
  return { record, sample };
}

/** Blanks of a type that were taken without a plan do for what is asked for, each for one. */
export function adoptBlanks(on: PlanningWells, type: PlannedType, wanted: readonly WantedBlank[]): BlanksLeft {
  const { blanks } = on.facts.samples;
  const free = new Set(
    blanks.filter(({ id, fields }) => `${fields.type}-blank` === type && !on.standing.plannedOf.has(id)),
  );
  const adopted: AdoptedSample[] = [];
  const left = wanted.filter((one) => {
    const found = [...free].find((blank) => one.isDoneBy?.(blank) ?? false);
    if (!found) return true;
    free.delete(found);
    adopted.push(asAdopted(on, found, type, one.crew));
    return false;
  });
  return { wanted: left, adopted };
}
