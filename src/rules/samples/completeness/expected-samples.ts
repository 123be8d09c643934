import { byKey } from '../../equipment/by-key.ts';
import type { BlankRecord, ContainerRecord, PlannedRecord, SampleRecord } from '../sample-records.ts';
import type { SamplesIndex } from '../samples-index.ts';

/** A sample or blank that an event is to bring, or that it brought without a plan. */
export interface ExpectedSample {
  readonly planned: PlannedRecord | undefined;
  readonly sample: SampleRecord | undefined;
  readonly blank: BlankRecord | undefined;
  /** Null for a blank. */
  readonly well: string | null;
  readonly suites: readonly string[];
  readonly containers: readonly ContainerRecord[];
}

/** Which containers are of a sample, a blank, or a planned sample of which none was taken. */
function containersBy({ of }: SamplesIndex): (...ids: readonly (string | undefined)[]) => readonly ContainerRecord[] {
  const by = [
    byKey(of.containers, ({ fields }) => fields.sample),
    byKey(of.containers, ({ fields }) => fields.blank),
    byKey(of.containers, ({ fields }) => ((fields.sample ?? fields.blank) === undefined ? fields.planned : undefined)),
  ];
  return (...ids) => ids.flatMap((id) => (id === undefined ? [] : by.flatMap((map) => map.get(id) ?? [])));
}

function wellOfSample(index: SamplesIndex, sample: SampleRecord | undefined): string | undefined {
  return sample && index.visits.get(sample.fields.visit)?.fields.well;
}

/** Wells that the event is to sample, with their suites by the plan and the assignments; none where neither names any. */
function plannedWells({ of }: SamplesIndex): ReadonlyMap<string, readonly string[]> {
  const { sampling } = of.event.fields.plan;
  const found = new Map<string, readonly string[]>();
  for (const { fields } of of.assignments) {
    if (fields.well === undefined) continue;
    const before = found.get(fields.well) ?? [];
    found.set(fields.well, [...new Set([...before, ...(fields.suites ?? [])])]);
  }
  for (const { well, suites } of sampling?.wells ?? [])
    found.set(well, suites ?? sampling?.suites ?? found.get(well) ?? []);
  if (sampling?.suites) {
    const own = new Set(sampling.wells?.flatMap(({ well, suites }) => (suites ? [well] : [])));
    for (const well of found.keys()) if (!own.has(well)) found.set(well, sampling.suites);
  }
  return found;
}

/** Of which planned sample each one is: the one that it names, else the one of its number, at its well or at none yet. */
function takenFor(index: SamplesIndex): ReadonlyMap<string, SampleRecord | BlankRecord> {
  const { of } = index;
  const taken = new Map<string, SampleRecord | BlankRecord>();
  for (const one of [...of.blanks, ...of.samples])
    if (one.fields.planned !== undefined) taken.set(one.fields.planned, one);
  const byNumber = new Map(of.plannedSamples.map((plan) => [plan.fields.number, plan]));
  for (const one of of.samples) {
    const plan = one.fields.planned === undefined ? byNumber.get(one.fields.number) : undefined;
    if (plan === undefined || taken.has(plan.id)) continue;
    const { type, well } = plan.fields;
    const isHere = well === undefined ? !type.endsWith('-blank') : well === wellOfSample(index, one);
    if (isHere) taken.set(plan.id, one);
  }
  return taken;
}

/**
 * Every sample and blank of an event: what was planned, with what was taken for it; what was taken without a plan; and of a
 * well of which neither is recorded, the suites that the plan or its assignment asks for.
 */
export function expectedSamples(index: SamplesIndex): readonly ExpectedSample[] {
  const { of } = index;
  const containersOf = containersBy(index);
  const taken = takenFor(index);
  const planned = of.plannedSamples.map((plan): ExpectedSample => {
    const one = taken.get(plan.id);
    const sample = one === undefined ? undefined : index.samples.get(one.id);
    const blank = one === undefined ? undefined : index.blanks.get(one.id);
    const well = wellOfSample(index, sample) ?? plan.fields.well ?? null;
    const suites = [...new Set([...plan.fields.suites, ...(one?.fields.suites ?? [])])];
    return { planned: plan, sample, blank, well, suites, containers: containersOf(one?.id, plan.id) };
  });
  const ofPlans = new Set(of.plannedSamples.map(({ id }) => taken.get(id)));
  const isOfPlan = (one: SampleRecord | BlankRecord) => ofPlans.has(one);
  const samples = of.samples
    .filter((one) => !isOfPlan(one))
    .map((sample): ExpectedSample => {
      const well = wellOfSample(index, sample) ?? null;
      const { suites } = sample.fields;
      return { planned: undefined, sample, blank: undefined, well, suites, containers: containersOf(sample.id) };
    });
  const blanks = of.blanks
    .filter((one) => !isOfPlan(one))
    .map((blank): ExpectedSample => {
      const { suites } = blank.fields;
      return { planned: undefined, sample: undefined, blank, well: null, suites, containers: containersOf(blank.id) };
    });
  const known = new Set([...planned, ...samples].map(({ well }) => well));
  const missing = [...plannedWells(index)].filter(([well, suites]) => !known.has(well) && suites.length > 0);
  const bare = { planned: undefined, sample: undefined, blank: undefined, containers: [] };
  return [...planned, ...samples, ...blanks, ...missing.map(([well, suites]) => ({ ...bare, well, suites }))];
}
