import type { FieldsOf } from '../../../protocol/kind.ts';
import type { reading } from '../../../protocol/kinds/reading.ts';
import type { RecordState } from '../../../protocol/record.ts';
import type { SamplingPlan } from '../../../protocol/sampling-plan.ts';
import { inObservedOrder } from '../../flags/facts/observed-order.ts';
import { readable } from '../../readable.ts';
import type { SampleRecords } from '../fill-rules/sample-facts.ts';
import type { PlannedRecord, VisitRecord } from '../sample-records.ts';

type ReadingRecord = RecordState<FieldsOf<typeof reading>>;

/** What is known of the containers that are filled at a visit: of its samples, and of what is planned at its well. */
export interface FillRecords extends SampleRecords {
  readonly visit: VisitRecord;
  /** The last that says how fast the water came. */
  readonly flow: ReadingRecord | null;
}

/** What was stored has the shape of its kind, once it is read as one. */
function ofKind<Of>(states: readonly RecordState[], kind: string): readonly Of[] {
  const its = states.filter((state) => state.kind === kind && state.voided === null);
  return its.toSorted((a, b) => (a.id < b.id ? -1 : 1)).map((state) => readable(state) as unknown as Of);
}

/** @param states the visit, its event, samples, purges with calls and readings, and what is labelled or planned for it */
export function fillRecords(of: RecordState, states: readonly RecordState[]): FillRecords {
  const visit = readable(of) as unknown as VisitRecord;
  const event = states.find(({ kind, id }) => kind === 'event' && id === visit.fields.event);
  const plan = event && (readable(event).fields.plan as { readonly sampling?: SamplingPlan | null } | undefined);
  const readings = ofKind<ReadingRecord>(states, 'reading').filter(({ fields }) => fields.flowMlPerMin !== undefined);
  const samples = ofKind<SampleRecords['samples'][number]>(states, 'sample');
  const own = new Set(samples.map(({ id }) => id));
  const planned = ofKind<PlannedRecord>(states, 'planned-sample').filter(({ fields }) => fields.standing === 'planned');
  const plannedIds = new Set(planned.map(({ id }) => id));
  // of a planned sample that was taken at another visit the containers are there
  const isHere = ({ fields }: SampleRecords['containers'][number]) =>
    fields.sample === undefined ? plannedIds.has(fields.planned ?? '') : own.has(fields.sample);
  return {
    plan: plan?.sampling ?? null,
    visit,
    purges: ofKind(states, 'purge'),
    calls: ofKind(states, 'call'),
    samples,
    containers: ofKind<SampleRecords['containers'][number]>(states, 'container').filter(isHere),
    labelled: [],
    fills: ofKind(states, 'fill'),
    suites: ofKind(states, 'analyte-suite'),
    planned,
    flow: inObservedOrder(readings).at(-1) ?? null,
  };
}
