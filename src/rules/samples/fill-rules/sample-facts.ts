import type { SamplingPlan } from '../../../protocol/sampling-plan.ts';
import { instantMs } from '../../../science/instant-ms.ts';
import { byKey } from '../../equipment/by-key.ts';
import { type AskedOfGroup, askedOfGroup, suiteNamed } from '../asked-of-group.ts';
import { groupsOf } from '../groups-of.ts';
import type {
  CallRecord,
  ContainerRecord,
  FillRecord,
  PlannedRecord,
  PurgeRecord,
  SampleRecord,
  SuiteRecord,
  VisitRecord,
} from '../sample-records.ts';

/** What the rules about samples look at: one visit with its samples and their containers, or containers of no sample. */
export interface SampleRecords {
  readonly plan: SamplingPlan | null;
  readonly visit: VisitRecord | null;
  readonly purges: readonly PurgeRecord[];
  readonly calls: readonly CallRecord[];
  readonly samples: readonly SampleRecord[];
  readonly containers: readonly ContainerRecord[];
  /** What the plan has for these samples and nobody has yet said to be of one: they are known by `planned` alone. */
  readonly labelled: readonly ContainerRecord[];
  readonly fills: readonly FillRecord[];
  readonly suites: readonly SuiteRecord[];
  /** What the containers are labelled for and the samples are taken for, as far as it is known. */
  readonly planned: readonly PlannedRecord[];
}

export interface ContainerFacts {
  readonly container: ContainerRecord;
  /** Null for one of a blank, or of nothing yet. */
  readonly sample: SampleRecord | null;
  /** By the group on its label. Null for one that the catalog does not hold: then nothing is asked by it. */
  readonly asked: AskedOfGroup | null;
  /** By each group that it serves and that the catalog holds, the one on its label first: all of it has to be so. */
  readonly served: readonly AskedOfGroup[];
  /** In the order of their times. */
  readonly fills: readonly FillRecord[];
  /** The last one: it tells what is in it. */
  readonly fill: FillRecord | null;
  /** Water is in it, and it is meant for the laboratory. */
  readonly isFull: boolean;
}

/** The records without what was voided, and each container with what belongs to it. */
export interface SampleFacts extends Omit<SampleRecords, 'containers' | 'labelled' | 'fills'> {
  readonly containers: readonly ContainerFacts[];
  /** Each with the sample that was taken for its plan; what is asked of them one by one is asked where they are alone. */
  readonly labelled: readonly ContainerFacts[];
}

function byId<Of extends { readonly id: string; readonly voided: unknown }>(records: readonly Of[]): readonly Of[] {
  return records.filter(({ voided }) => voided === null).toSorted((a, b) => (a.id < b.id ? -1 : 1));
}

function inFillOrder(fills: readonly FillRecord[]): readonly FillRecord[] {
  const key = ({ fields, id }: FillRecord) => [instantMs(fields.collected), instantMs(fields.observed.at), id] as const;
  return fills.toSorted((one, other) => {
    const [a, b] = [key(one), key(other)];
    return a[0] - b[0] || a[1] - b[1] || (a[2] < b[2] ? -1 : 1);
  });
}

function isStill({ fields: { standing } }: ContainerRecord): boolean {
  return standing !== 'discarded' && standing !== 'dropped';
}

/** The suite that asks for a group of a container: its own, else the first of its sample that names the group. */
function suiteFor(
  group: string,
  { fields }: ContainerRecord,
  sample: SampleRecord | null,
  suites: readonly SuiteRecord[],
): SuiteRecord | undefined {
  const own = suiteNamed(suites, fields.suite);
  const asks = (one: SuiteRecord | undefined) => one?.fields.groups.some((its) => its.group === group) === true;
  if (asks(own)) return own;
  return sample?.fields.suites.map((name) => suiteNamed(suites, name)).find(asks) ?? own;
}

/** Of two samples that were taken for one plan the first by id, so that it is always the same. */
function takenFor({ fields: { planned } }: ContainerRecord, samples: readonly SampleRecord[]): SampleRecord | null {
  return samples.find(({ fields }) => planned !== undefined && fields.planned === planned) ?? null;
}

export function sampleFacts({ containers, labelled, fills, suites, ...records }: SampleRecords): SampleFacts {
  const { plan, visit } = records;
  const samples = byId(records.samples);
  const ofContainer = byKey(byId(fills), ({ fields }) => fields.container);
  const at = { plan, well: visit?.fields.well ?? null };
  const factsOf = (container: ContainerRecord, sample: SampleRecord | null): ContainerFacts => {
    const its = inFillOrder(ofContainer.get(container.id) ?? []);
    const asked = (group: string) => askedOfGroup(group, suiteFor(group, container, sample, suites), at);
    return {
      container,
      sample,
      asked: asked(container.fields.group),
      served: groupsOf(container).flatMap((group) => asked(group) ?? []),
      fills: its,
      fill: its.at(-1) ?? null,
      isFull: isStill(container) && (its.length > 0 || container.fields.standing === 'filled'),
    };
  };
  const [purges, calls, planned] = [byId(records.purges), byId(records.calls), byId(records.planned)];
  return {
    ...{ plan, visit, samples, purges, calls, planned, suites: byId(suites) },
    containers: byId(containers).map((one) => factsOf(one, samples.find(({ id }) => id === one.fields.sample) ?? null)),
    labelled: byId(labelled).map((one) => factsOf(one, takenFor(one, samples))),
  };
}
