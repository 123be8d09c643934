import { analyteGroup } from '../../../catalog/analytes/analyte-groups.ts';
import { needsOwnSpikeBottle, spikeTimes } from '../../sampling-plan/spike-bottles.ts';
import { groupsOf } from '../groups-of.ts';
import { isReceived, type ReceivedAs } from '../received.ts';
import { resultsOfSuite } from '../results-of.ts';
import type { ContainerRecord, SuiteRecord } from '../sample-records.ts';
import { holderOf, type SamplesIndex, suiteAsking } from '../samples-index.ts';
import type { ExpectedSample } from './expected-samples.ts';

export const LACKING = ['dropped', 'not-collected', 'not-received', 'came-spoilt', 'not-resulted'] as const;

/** Something that an event lacks, and what is known of why. */
export interface Lacking {
  readonly container: string | null;
  readonly label: string | null;
  readonly group: string | null;
  readonly what: (typeof LACKING)[number];
  readonly count: number;
  readonly why: string | null;
  readonly agreedBy: string | null;
}

export type ContainerState = 'expected' | 'dropped' | 'collected' | 'came-spoilt' | 'received';

/** One suite of one sample. Counts are of containers. */
export interface SuiteLine {
  readonly suite: string | null;
  /**
   * Of those that are recorded, by their ids. What was thrown away and filled anew counts once; what was thrown away and not
   * filled anew counts as one that is still expected.
   */
  readonly states: ReadonlyMap<string, ContainerState>;
  /** Further ones that the suite asks for, of groups of which none is recorded. */
  readonly unrecorded: number;
  /** Whether those are dropped, with their sample. */
  readonly isDropped: boolean;
  readonly resultsReported: number;
  /** Null where the suite lists no analytes. */
  readonly resultsExpected: number | null;
  readonly lacking: readonly Lacking[];
  /** Why no container is expected, so that whether it is complete cannot be told; null where some are. */
  readonly nothingBecause: string | null;
}

export interface LineWorld {
  readonly index: SamplesIndex;
  readonly received: ReadonlyMap<string, ReceivedAs>;
  /** Why nothing came of a well, such as that it was dry. */
  readonly whyOfWell: (well: string | null) => string | null;
}

/** Of what came like this there is nothing to analyse. */
const SPOILT: readonly ReceivedAs['condition'][] = ['broken', 'leaking'];

function serves(one: ContainerRecord, group: string): boolean {
  return groupsOf(one).includes(group);
}

function isSpike({ sample, planned }: ExpectedSample): boolean {
  return (sample?.fields.type ?? planned?.fields.type) === 'matrix-spike';
}

/** What is no organic is spiked out of the bottle of its parent: a spike brings none for it. */
function needsBottle(of: ExpectedSample, group: string): boolean {
  return !isSpike(of) || needsOwnSpikeBottle(analyteGroup(group)?.filling.fillClass ?? null);
}

type SuiteGroup = SuiteRecord['fields']['groups'][number];

function askedCount({ group, containers }: SuiteGroup): number {
  return containers ?? analyteGroup(group)?.container.bottles.count ?? 1;
}

/**
 * What was thrown away and not filled anew, of groups of which something else is recorded: as many as lack of what the suite
 * asks for. Of a group of which nothing else is recorded, all of it lacks.
 */
function notFilledAnew(
  suite: SuiteRecord | undefined,
  all: readonly ContainerRecord[],
  of: ExpectedSample,
): readonly ContainerRecord[] {
  const isGone = ({ fields }: ContainerRecord) => fields.standing === 'discarded';
  const found = (suite?.fields.groups ?? []).flatMap((asked) => {
    const its = all.filter((one) => serves(one, asked.group));
    const [gone, left] = [its.filter(isGone), its.filter((one) => !isGone(one)).length];
    const lacking = left === 0 ? 0 : askedCount(asked) * (isSpike(of) ? spikeTimes() : 1) - left;
    return gone.slice(0, Math.max(0, lacking));
  });
  return [...new Set(found)];
}

/** Groups of the suite of which no container is recorded, each with how many it asks for. */
function unrecordedOf(
  suite: SuiteRecord | undefined,
  containers: readonly ContainerRecord[],
  of: ExpectedSample,
): readonly [string, number][] {
  const groups = suite?.fields.groups ?? [];
  return groups
    .filter(({ group }) => needsBottle(of, group))
    .filter(({ group }) => !containers.some((one) => serves(one, group)))
    .map((asked) => [asked.group, askedCount(asked)]);
}

function stateOf({ received }: LineWorld, { id, fields: { standing } }: ContainerRecord): ContainerState {
  const said = received.get(id);
  if (isReceived(said)) return SPOILT.includes(said.condition) ? 'came-spoilt' : 'received';
  if (standing === 'dropped') return 'dropped';
  return standing === 'filled' ? 'collected' : 'expected';
}

const LACKS: Readonly<Record<Exclude<ContainerState, 'received'>, Lacking['what']>> = {
  dropped: 'dropped',
  expected: 'not-collected',
  collected: 'not-received',
  'came-spoilt': 'came-spoilt',
};

const NOT_FILLED_ANEW = 'It was filled and thrown away, and none was filled in its place.';

function lackingOf(
  world: LineWorld,
  one: ContainerRecord,
  state: ContainerState,
  whyNot: string | null,
): Lacking | null {
  if (state === 'received') return null;
  const { label, group, standing, droppedBecause, agreedBy } = one.fields;
  const said = world.received.get(one.id);
  const why = {
    dropped: droppedBecause ?? whyNot,
    expected: standing === 'discarded' ? NOT_FILLED_ANEW : whyNot,
    collected: said ? 'The laboratory did not find it.' : null,
    'came-spoilt': [said?.condition, said?.remark].filter(Boolean).join(': '),
  }[state];
  return { container: one.id, label, group, what: LACKS[state], count: 1, why, agreedBy: agreedBy ?? null };
}

function resultsOf({ index }: LineWorld, of: ExpectedSample, suite: SuiteRecord | undefined): number {
  const holder = of.sample ?? of.blank;
  if (!holder || !suite) return 0;
  const all = resultsOfSuite(index, holder.id, suite, holder.fields.suites);
  return all.filter(({ fields }) => fields.condition !== 'not-reported').length;
}

function nothingBecause(of: ExpectedSample, name: string | null, suite: SuiteRecord | undefined): string {
  if (name === null) return 'its containers were thrown away, and none was filled anew';
  if (!suite) return `the suite ${JSON.stringify(name)} is not on record: which containers it asks for is not known`;
  if (suite.fields.groups.length === 0) return `the suite ${JSON.stringify(name)} names no group that is known`;
  return `nothing of ${JSON.stringify(name)} has a bottle of its own in a ${of.sample?.fields.type ?? of.planned?.fields.type ?? 'sample'}: it is spiked out of the bottle of its parent`;
}

function suiteLine(
  world: LineWorld,
  of: ExpectedSample,
  name: string | null,
  all: readonly ContainerRecord[],
): SuiteLine {
  const suite = name === null ? undefined : world.index.suites.get(name);
  const containers = all.filter(({ fields }) => fields.standing !== 'discarded');
  const { planned } = of;
  const isDropped = planned?.fields.standing === 'dropped';
  const whyNot = (isDropped ? planned.fields.droppedBecause : undefined) ?? world.whyOfWell(of.well);
  const missing = unrecordedOf(suite, containers, of);
  const what = isDropped ? 'dropped' : 'not-collected';
  const none = { container: null, label: null, agreedBy: null, why: whyNot, what } as const;
  const owing = [...containers, ...notFilledAnew(suite, all, of)];
  const states = new Map(owing.map((one) => [one.id, stateOf(world, one)]));
  const lacking = [
    ...owing.flatMap((one) => lackingOf(world, one, states.get(one.id) ?? 'expected', whyNot) ?? []),
    ...missing.map(([group, count]) => ({ ...none, group, count })),
  ];
  const unrecorded = missing.reduce((sum, [, many]) => sum + many, 0);
  const resultsExpected = suite?.fields.analytes?.length ?? null;
  const resultsReported = resultsOf(world, of, suite);
  const hasCome = [...states.values()].includes('received');
  const owed = hasCome ? Math.max(0, (resultsExpected ?? 1) - resultsReported) : 0;
  const open = { container: null, label: null, group: null, agreedBy: null, why: null, what: 'not-resulted' } as const;
  return {
    suite: name,
    states,
    unrecorded,
    isDropped,
    resultsReported,
    resultsExpected,
    nothingBecause: states.size + unrecorded === 0 ? nothingBecause(of, name, suite) : null,
    lacking: owed === 0 || name === null ? lacking : [...lacking, { ...open, count: owed }],
  };
}

/** The suites of a sample, each with its containers; containers that no suite asks for stand under none. */
export function suiteLines(world: LineWorld, of: ExpectedSample): readonly SuiteLine[] {
  const by = new Map<string | null, ContainerRecord[]>(of.suites.map((name) => [name, []]));
  for (const one of of.containers) {
    const holder = holderOf(world.index, one);
    const names = groupsOf(one).map(
      (group) => suiteAsking(world.index, one, holder, group)?.fields.name ?? one.fields.suite ?? null,
    );
    for (const name of new Set(names)) {
      const its = by.get(name);
      if (its) its.push(one);
      else by.set(name, [one]);
    }
  }
  return [...by].map(([name, containers]) => suiteLine(world, of, name, containers));
}
