import type { AnalyteGroup } from '../../../catalog/analytes/analyte-group.ts';
import { analyteGroup } from '../../../catalog/analytes/analyte-groups.ts';
import type { SuiteGroup } from '../../../protocol/kinds/analyte-suite.ts';
import { instantMs } from '../../../science/instant-ms.ts';
import { isRefusal } from '../../../science/refusal.ts';
import type { ClockReading, HoldingClock } from '../../../science/samples/holding-clocks.ts';
import { laboratoryOf } from '../laboratory-of.ts';
import { isReceived, type ReceivedAs } from '../received.ts';
import type { ContainerRecord, LaboratoryRecord, WellRecord } from '../sample-records.ts';
import { type Holder, holderOf, type SamplesIndex, suiteAsking, wellOf } from '../samples-index.ts';
import { readClocks } from './clocks-of-results.ts';
import { type ContainerTimes, containerTimes } from './container-times.ts';
import { type ClockBasis, type LimitsAnswer, limitsOf } from './holding-basis.ts';
import type { LimitStart } from './limit-start.ts';

export interface ContainerClock extends ClockReading {
  readonly group: AnalyteGroup;
  readonly written: string;
  readonly basis: ClockBasis;
}

/** A container with everything that its clocks rest on. */
export interface ContainerClocks {
  readonly container: ContainerRecord;
  readonly holder: Holder;
  readonly well: WellRecord | undefined;
  readonly laboratory: LaboratoryRecord | undefined;
  readonly suiteName: string | null;
  readonly groupTitle: string | null;
  readonly received: ReceivedAs | undefined;
  /** As recorded. */
  readonly collectedAt: string | null;
  /** From when its limits count. */
  readonly start: LimitStart | null;
  readonly collectedFrom: ContainerTimes['from'];
  readonly preservation: ContainerTimes['preservation'] | null;
  readonly clocks: readonly ContainerClock[];
  /** The earliest end of a clock that still runs and does not end at the well; null where none does. */
  readonly dueAt: string | null;
  /** Of what no clock is known, and why; null where there is nothing to say. */
  readonly unknown: string | null;
}

/** Clocks that end at the well, or not at all in time; the laboratory can do nothing about them. */
const FIELD_CLOCKS: readonly HoldingClock[] = ['collection-to-filtration', 'collection-to-preservation'];

export function isFieldClock({ clock }: { readonly clock: HoldingClock }): boolean {
  return FIELD_CLOCKS.includes(clock);
}

/** Runs, and its end is behind: also of what ends at the well, which is over and was not met as far as anybody said. */
export function isPastEnd({ state, dueAt }: Pick<ClockReading, 'state' | 'dueAt'>, at: string): boolean {
  return state === 'running' && dueAt !== null && instantMs(dueAt) < instantMs(at);
}

/** Whether one of its clocks is past its end. */
export function hasPast({ clocks }: Pick<ContainerClocks, 'clocks'>, at: string): boolean {
  return clocks.some((clock) => isPastEnd(clock, at));
}

function earliest(clocks: readonly ContainerClock[]): string | null {
  let found: string | null = null;
  for (const clock of clocks) {
    const { dueAt, state } = clock;
    // what ended in minutes at the well would hide what is still to be met
    if (dueAt === null || state !== 'running' || isFieldClock(clock)) continue;
    if (found === null || instantMs(dueAt) < instantMs(found)) found = dueAt;
  }
  return found;
}

/** What was thrown away or left out has no clock, and says so. */
function withoutClock({ fields }: ContainerRecord): string | null {
  if (fields.standing === 'dropped') return `It was left out: ${fields.droppedBecause ?? 'nobody said why'}.`;
  return fields.standing === 'discarded' ? 'It was filled and thrown away.' : null;
}

const remembered = new WeakMap<object, Map<boolean, LimitsAnswer>>();

/** The same for thousands of bottles: a group of the catalog, or what a suite says of it, never changes where it is. */
function rememberedLimits(group: AnalyteGroup, ordered: SuiteGroup | undefined, isPreserved: boolean): LimitsAnswer {
  const key = ordered ?? group;
  const known = remembered.get(key) ?? new Map<boolean, LimitsAnswer>();
  remembered.set(key, known);
  const limits = known.get(isPreserved) ?? limitsOf(group, ordered, isPreserved);
  known.set(isPreserved, limits);
  return limits;
}

type OfGroup = Pick<ContainerClocks, 'clocks' | 'unknown' | 'collectedAt' | 'start' | 'collectedFrom' | 'preservation'>;

const NOTHING = { clocks: [], collectedAt: null, start: null, collectedFrom: null, preservation: null } as const;

function clocksOfGroup(index: SamplesIndex, container: ContainerRecord, holder: Holder, id: string): OfGroup {
  const group = analyteGroup(id);
  if (!group) return { ...NOTHING, unknown: `The catalog has no group of analytes "${id}": no clock is known of it.` };
  const suite = suiteAsking(index, container, holder, id);
  const told = containerTimes(index, container, { group, holder, suite });
  const { times, atLaboratory, from, preservation, collectedAt, start } = told;
  const ordered = suite?.fields.groups.find((one) => one.group === id);
  const { limits, unknown } = rememberedLimits(group, ordered, preservation !== 'not-in-it');
  const readings = readClocks(limits, times, atLaboratory);
  // instants of records have an offset, and limits are whole minutes: what cannot be read is told, not thrown
  if (isRefusal(readings)) return { ...NOTHING, unknown: readings.refused };
  const clocks = readings.flatMap((reading, at) => {
    const limit = limits[at];
    return limit ? [{ ...reading, group, written: limit.written, basis: limit.basis }] : [];
  });
  return { clocks, unknown, collectedAt, start, collectedFrom: from, preservation };
}

/** Once a bottle: it is preserved and filtered once, however many groups it serves. */
function withoutRepeats(clocks: readonly ContainerClock[]): readonly ContainerClock[] {
  const seen = new Set<string>();
  return clocks.filter((one) => {
    const key = isFieldClock(one) ? `${one.clock} ${one.limitMinutes}` : `${one.clock} ${one.group.id}`;
    return seen.size < seen.add(key).size;
  });
}

type Clocked = OfGroup & Pick<ContainerClocks, 'dueAt'>;

function clocked(index: SamplesIndex, container: ContainerRecord, holder: Holder): Clocked {
  const gone = withoutClock(container);
  if (gone !== null) return { ...NOTHING, dueAt: null, unknown: gone };
  const { group, alsoGroups } = container.fields;
  const [first, ...also] = [group, ...(alsoGroups ?? [])].map((id) => clocksOfGroup(index, container, holder, id));
  if (!first) throw new Error(`the container ${container.id} has no group: its kind asks for one`);
  const clocks = withoutRepeats([first, ...also].flatMap((one) => one.clocks));
  const unknown = [first, ...also].flatMap((one) => one.unknown ?? []).join(' ');
  return { ...first, clocks, dueAt: earliest(clocks), unknown: unknown === '' ? null : unknown };
}

/** The clocks of one container, each with its own deadline, and on what it rests. */
export function containerClocks(
  index: SamplesIndex,
  container: ContainerRecord,
  received: ReceivedAs | undefined,
): ContainerClocks {
  const holder = holderOf(index, container);
  return {
    container,
    holder,
    well: wellOf(index, holder),
    laboratory: laboratoryOf(index, container),
    suiteName: suiteAsking(index, container, holder)?.fields.name ?? container.fields.suite ?? null,
    groupTitle: analyteGroup(container.fields.group)?.title ?? null,
    received: isReceived(received) ? received : undefined,
    ...clocked(index, container, holder),
  };
}
