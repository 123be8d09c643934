import type { AnalyteGroup, Headspace } from '../../catalog/analytes/analyte-group.ts';
import { analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import type { FieldsOf } from '../../protocol/kind.ts';
import type { SuiteGroup } from '../../protocol/kinds/analyte-suite.ts';
import type { container } from '../../protocol/kinds/container.ts';
import type { SamplingPlan } from '../../protocol/sampling-plan.ts';
import type { SuiteRecord } from './sample-records.ts';

type ContainerFields = FieldsOf<typeof container>;

/** From so much on a bottle has a limit of its own: US Geological Survey, National Field Manual, 4.2. */
const BOTTLE_FROM_ML = 250;

/** What a container of a group has to be and how it is filled: the catalog, over it the suite, over that the plan. */
export interface AskedOfGroup {
  readonly group: AnalyteGroup;
  /** What the suite says of the group; null where no suite is known that names it. */
  readonly ordered: SuiteGroup | null;
  readonly kind: ContainerFields['type'];
  readonly materials: readonly string[];
  readonly colour: 'amber' | 'any';
  /** Any one of these sets; none where nothing is added. */
  readonly preservatives: readonly (readonly string[])[];
  readonly count: number;
  readonly volumeMl: number;
  readonly leastCount: number;
  readonly leastVolumeMl: number;
  /** 1 is filled before 2. */
  readonly priority: number;
  /** Null where either may be meant. */
  readonly filtered: boolean | null;
  readonly poreUm: string | null;
  readonly headspace: Headspace;
}

/** Of several suites of one name the first by id, so that it is always the same. */
export function suiteNamed(suites: readonly SuiteRecord[], name: string | undefined): SuiteRecord | undefined {
  const named = suites.filter(({ fields, voided }) => fields.name === name && voided === null);
  return named.toSorted((a, b) => (a.id < b.id ? -1 : 1))[0];
}

function orderedBy(suite: SuiteRecord | undefined, group: string): SuiteGroup | null {
  return suite?.fields.groups.find((one) => one.group === group) ?? null;
}

/** The plan says it of one well for what may be filtered; nothing makes a filter right where it takes away what is asked for. */
function isFiltered(
  group: AnalyteGroup,
  ordered: SuiteGroup | null,
  ofWell: boolean | null | undefined,
): boolean | null {
  const { filter } = group.filtration;
  if (filter === 'never') return false;
  if (ordered?.filtered != null) return ordered.filtered;
  if (filter === 'field-filter' || filter === 'sterile-filter') return true;
  if (filter === 'unfiltered') return false;
  return ofWell ?? (filter === 'only-with-reason' ? false : null);
}

function preservativesOf(group: AnalyteGroup, ordered: SuiteGroup | null): AskedOfGroup['preservatives'] {
  if (ordered?.preservatives == null) return group.preservation.anyOf;
  return ordered.preservatives.length === 0 ? [] : [ordered.preservatives];
}

export interface PlannedAt {
  readonly plan: SamplingPlan | null;
  readonly well: string | null;
}

/** @returns null for a group that the catalog does not hold */
export function askedOfGroup(id: string, suite: SuiteRecord | undefined, at: PlannedAt): AskedOfGroup | null {
  const group = analyteGroup(id);
  if (!group) return null;
  const ordered = orderedBy(suite, id);
  const { container: documents, shortWater, filtration, filling } = group;
  const count = ordered?.containers ?? documents.bottles.count;
  const volumeMl = ordered?.volumeMl == null ? documents.bottles.volumeMl : Number(ordered.volumeMl);
  return {
    group,
    ordered,
    kind: ordered?.container ?? documents.kind,
    materials: ordered?.material == null ? documents.materials : [ordered.material],
    colour: ordered?.colour == null ? documents.colour : ordered.colour === 'amber' ? 'amber' : 'any',
    preservatives: preservativesOf(group, ordered),
    count,
    volumeMl,
    leastCount: Math.min(count, shortWater.leastCount),
    leastVolumeMl: Math.min(volumeMl, shortWater.leastVolumeMl),
    priority: shortWater.priority,
    filtered: isFiltered(group, ordered, at.plan?.wells?.find(({ well }) => well === at.well)?.filtered),
    poreUm: filtration.poreMicrometers ?? null,
    headspace: filling.headspace,
  };
}

export interface RateLimit {
  readonly mlPerMin: number;
  readonly source: string;
}

/** How fast it may be filled at most; null where neither the plan nor a document says. */
export function fillRateLimit(
  { group, headspace }: AskedOfGroup,
  volumeMl: number,
  plan: SamplingPlan | null,
): RateLimit | null {
  const planned = plan?.fillRateMlPerMin;
  const { rate } = group.filling;
  const ofPlan = headspace === 'none' ? planned?.volatiles : volumeMl >= BOTTLE_FROM_ML ? planned?.bottles : undefined;
  if (ofPlan != null) return { mlPerMin: Number(ofPlan), source: 'the plan of the event' };
  if (rate === undefined || (headspace !== 'none' && volumeMl < BOTTLE_FROM_ML)) return null;
  return { mlPerMin: rate.atMostMlPerMin, source: rate.source };
}

/** The lowest limit among the groups that a container serves, with the first of those that have it. */
export function slowestLimit(
  served: readonly AskedOfGroup[],
  volumeMl: number,
  plan: SamplingPlan | null,
): { readonly asked: AskedOfGroup; readonly limit: RateLimit } | null {
  const limits = served.flatMap((asked) => {
    const limit = fillRateLimit(asked, volumeMl, plan);
    return limit === null ? [] : [{ asked, limit }];
  });
  return limits.toSorted((a, b) => a.limit.mlPerMin - b.limit.mlPerMin)[0] ?? null;
}
