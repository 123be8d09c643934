import type { BlankRecord, SampleRecord } from '../samples/sample-records.ts';
import type { WellToSample } from './plan-wells.ts';
import type { PlanningWells } from './planning-wells.ts';
import type { ProposedSample } from './proposed.ts';
import { reconcileContainers } from './reconcile-containers.ts';

/** A sample or blank that a crew took without a plan: it is of the plan as it is, and nothing is planned beside it. */
export interface AdoptedSample {
  readonly record: SampleRecord | BlankRecord;
  /** As the rest of the plan counts it: it is written by no plan. */
  readonly sample: ProposedSample;
}

/** Normal samples of a well that nobody planned and that are for suites that the plan asks for there. */
export function adoptedAt(on: PlanningWells, { well, suites }: WellToSample): readonly AdoptedSample[] {
  const { facts, standing } = on;
  const visits = new Map(
    facts.samples.visits.flatMap(({ id, fields }) => (fields.well === well.id ? [[id, fields.crew] as const] : [])),
  );
  const plannedFor = facts.samples.plannedSamples.flatMap(({ id, fields }) =>
    fields.type === 'normal' && fields.well === well.id && standing.taken.has(id) ? fields.suites : [],
  );
  const lacking = suites.filter((suite) => !plannedFor.includes(suite));
  return facts.samples.samples.flatMap((record): AdoptedSample[] => {
    const crew = visits.get(record.fields.visit);
    if (crew === undefined || (record.fields.type ?? 'normal') !== 'normal') return [];
    if (standing.plannedOf.has(record.id) || !record.fields.suites.some((suite) => lacking.includes(suite))) return [];
    return [asAdopted(on, record, { type: 'normal', well: well.id, crew })];
  });
}

/** What was taken, as the plan counts what it planned itself. */
export function asAdopted(
  on: PlanningWells,
  record: SampleRecord | BlankRecord,
  as: Pick<ProposedSample, 'type' | 'well' | 'crew'>,
): AdoptedSample {
  const { id, rev, fields } = record;
  const { number, suites, laboratory = null, remark = null } = fields;
  const its = on.facts.samples.containers.filter(({ fields: one }) => one.sample === id || one.blank === id);
  const of = { planned: id, event: on.event, laboratory, isFixed: true, because: '' };
  const sample: ProposedSample = {
    ...as,
    ...{ id, number, of: null, laboratory, suites, remark, rev },
    ...{ standing: 'planned', droppedBecause: null, isTaken: true, isOfPerson: true, change: 'kept', set: null },
    containers: reconcileContainers(of, [], its, on),
  };
  return { record, sample };
}
