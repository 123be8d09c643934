import { analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import { groupsOf } from '../samples/groups-of.ts';
import type { ContainerRecord } from '../samples/sample-records.ts';
import { type Holder, holderOf, type SamplesIndex } from '../samples/samples-index.ts';
import { isBlind, isForMatrixSpike, planOf, type ToldOf } from '../samples/told-to-laboratory.ts';
import { needsOwnSpikeBottle } from '../sampling-plan/spike-bottles.ts';
import { groupTitle } from './container-words.ts';

/** What a laboratory is told to spike out of one bottle. */
export interface SpikeTold {
  /** Of a bottle of a spike, the sample whose water it is. Null on the bottles of that sample itself, and where none is known. */
  readonly parent: ToldOf | null;
  /** Titles of the groups. */
  readonly analyses: readonly string[];
}

interface Spikes {
  /** Of what is spiked, the groups that are spiked out of its own bottles. */
  readonly fromParent: ReadonlyMap<string, ReadonlySet<string>>;
}

function takenAs({ of }: SamplesIndex, planned: string | undefined) {
  return planned === undefined ? undefined : of.samples.find((one) => planOf(one, of)?.id === planned);
}

/** The first sample of a spike: as the crew names it, else that which was taken of what the plan names. */
function parentOfSpike(index: SamplesIndex, spike: ToldOf): ToldOf | null {
  const isPlan = spike.kind === 'planned-sample';
  const fields = spike.fields as { readonly of?: string | undefined };
  const named = isPlan ? undefined : index.samples.get(fields.of ?? '');
  const planned = planOf(spike, index.of)?.fields.of;
  const parent = named ?? takenAs(index, planned) ?? index.planned.get(planned ?? '') ?? null;
  // one that names a blind duplicate would say which sample that is made beside: it is asked about at the well
  if (parent === null || isBlind(parent, index.of) || isForMatrixSpike(parent, index.of)) return null;
  return parent;
}

/** Spikes that were taken, and those that are planned and not taken yet: metals have no bottle that says so. */
function spikesIn(index: SamplesIndex): readonly ToldOf[] {
  const { samples, plannedSamples } = index.of;
  const made = new Set(samples.map((one) => planOf(one, index.of)?.id));
  const waiting = plannedSamples.filter(({ id, fields }) => fields.standing === 'planned' && !made.has(id));
  return [...samples, ...waiting].filter((one) => isForMatrixSpike(one, index.of));
}

function holderIds({ sample, planned }: Holder): readonly string[] {
  return [sample?.id, planned?.id].filter((id) => id !== undefined);
}

/** Groups for which each sample, taken or planned, has bottles. */
function bottledGroups(index: SamplesIndex): ReadonlyMap<string, ReadonlySet<string>> {
  const groups = new Map<string, Set<string>>();
  for (const container of index.of.containers) {
    if (container.fields.standing === 'dropped' || container.fields.standing === 'discarded') continue;
    for (const id of holderIds(holderOf(index, container))) {
      const its = groups.get(id) ?? new Set();
      for (const group of groupsOf(container)) its.add(group);
      groups.set(id, its);
    }
  }
  return groups;
}

/** Groups that a spike has to be made for, without those that only bottles of its own can bring. */
function askedOfParent(index: SamplesIndex, spike: ToldOf): readonly string[] {
  const suites = spike.fields.suites ?? [];
  const asked = suites.flatMap((name) => index.suites.get(name)?.fields.groups.map(({ group }) => group) ?? []);
  return asked.filter((group) => !needsOwnSpikeBottle(analyteGroup(group)?.filling.fillClass ?? null));
}

function spikesOf(index: SamplesIndex): Spikes {
  const fromParent = new Map<string, Set<string>>();
  const spikes = spikesIn(index);
  const bottled = spikes.length === 0 ? new Map<string, ReadonlySet<string>>() : bottledGroups(index);
  for (const spike of spikes) {
    const parent = parentOfSpike(index, spike);
    if (parent === null) continue;
    const own = [spike.id, planOf(spike, index.of)?.id].map((id) => bottled.get(id ?? ''));
    const groups = askedOfParent(index, spike).filter((group) => !own.some((its) => its?.has(group)));
    for (const id of [parent.id, planOf(parent, index.of)?.id].filter((one) => one !== undefined)) {
      fromParent.set(id, new Set([...(fromParent.get(id) ?? []), ...groups]));
    }
  }
  return { fromParent };
}

const known = new WeakMap<SamplesIndex, Spikes>();

function spikesKnown(index: SamplesIndex): Spikes {
  const spikes = known.get(index) ?? spikesOf(index);
  known.set(index, spikes);
  return spikes;
}

/**
 * What is to be spiked out of a bottle: all of one of a spike, which names its first sample, and of a bottle of that
 * sample the groups of which the spike has no bottle of its own. Null for any other bottle.
 */
export function spikeTold(index: SamplesIndex, container: ContainerRecord): SpikeTold | null {
  const holder = holderOf(index, container);
  const bottleOf = holder.sample ?? holder.blank ?? holder.planned;
  if (bottleOf === undefined || bottleOf.kind === 'blank') return null;
  if (isForMatrixSpike(bottleOf, index.of)) {
    return { parent: parentOfSpike(index, bottleOf), analyses: groupsOf(container).map(groupTitle) };
  }
  const spiked = spikesKnown(index).fromParent.get(bottleOf.id);
  const groups = groupsOf(container).filter((group) => spiked?.has(group));
  return groups.length === 0 ? null : { parent: null, analyses: groups.map(groupTitle) };
}
