import { isSameJson } from '../../protocol/same-json.ts';
import { isLabelledOnly, isOfNoSample } from '../../rules/derive/sample-derived.ts';
import { byKey } from '../../rules/equipment/by-key.ts';
import type { Held } from '../../rules/held.ts';
import type { AskedAnew } from '../../store/write/suite-visits.ts';
import type { Draft, Group } from '../group.ts';
import { countsAnew, isNamedAnew, samplingOf, sides, textOf } from './draft-change.ts';

/** What changes bear on the flags about samples. */
export interface SampleSeeds {
  /** Containers that changed, or whose fills did. */
  readonly containers: readonly string[];
  /** Visits whose samples, purges, calls or times changed. */
  readonly visits: readonly string[];
  /** What analyte suites ask for otherwise now. */
  readonly suites: readonly AskedAnew[];
  /** Events whose plan asks for something else of samples now. */
  readonly events: readonly string[];
  /** Planned samples that are planned otherwise now: what was labelled or taken for them may be of another sample or type. */
  readonly replanned: readonly string[];
  /** Containers by event and label, as they are and as they were: "EVENT LABEL". */
  readonly labels: readonly string[];
}

const OF_VISIT = ['visit', 'purge', 'call', 'sample'];

/** The same feed names the event of a container, whatever else is known of it. */
function labelOf({ feed, state }: Held): string {
  return `${feed.slice('event:'.length)} ${state.fields.label}`;
}

const BEARS = ['label', 'standing'];

/** Whether a container's label, or whether it counts, is another now. */
function labelTells(draft: Draft): boolean {
  const { held, before } = draft;
  return countsAnew(draft) || BEARS.some((field) => held.state.fields[field] !== before?.state.fields[field]);
}

/** What a suite says of a group that no container is judged by: its clocks, where it goes, and why it is otherwise. */
const OF_NO_CONTAINER = [
  ...['variant', 'laboratory', 'holdingHours', 'extractionHours', 'extractToAnalysisHours', 'reason', 'approvedBy'],
];

interface OfGroup {
  readonly group: string;
}

/** Of each group that a suite orders, what its containers are judged by. */
function ordersOf({ state }: Held): ReadonlyMap<string, readonly object[]> {
  return byKey(
    (state.fields.groups as readonly OfGroup[]).map((one) =>
      Object.fromEntries(Object.entries(one).filter(([field]) => !OF_NO_CONTAINER.includes(field))),
    ),
    ({ group }) => String(group),
  );
}

/** What a suite asks for otherwise now: what analytes it lists, or how long they keep, bears on no container. */
function askedAnew(draft: Draft): AskedAnew[] {
  const its = sides(draft);
  const names = [...new Set(its.flatMap(({ state }) => textOf(state.fields.name)))];
  if (isNamedAnew(draft)) return names.map((name) => ({ name, group: null }));
  const [now, then] = [ordersOf(draft.held), ordersOf(draft.before ?? draft.held)];
  const groups = [...new Set([...now.keys(), ...then.keys()])];
  const changed = groups.filter((group) => !isSameJson(now.get(group) ?? null, then.get(group) ?? null));
  return names.flatMap((name) => changed.map((group) => ({ name, group })));
}

function isReplanned({ held, before }: Draft): boolean {
  return before !== null && !isSameJson(samplingOf(held), samplingOf(before));
}

const OF_PLAN = ['number', 'well', 'type', 'of', 'laboratoryTime'];

/** Of one that was not there before nothing is labelled yet, and nothing taken. */
function isOtherPlan(draft: Draft): boolean {
  const { held, before } = draft;
  if (before === null) return false;
  if (countsAnew(draft)) return true;
  return OF_PLAN.some((field) => (held.state.fields[field] ?? null) !== (before.state.fields[field] ?? null));
}

/** Whether the visit has samples at all: a purge before the first bottle costs nothing here. */
function hasSamples({ overlay }: Pick<Group, 'overlay'>, visit: string): boolean {
  return overlay.ofVisit(visit).some(({ state }) => state.kind === 'sample');
}

/** @returns null where nothing of samples is touched, which is so for most of what phones push */
export function sampleSeeds(group: Group): SampleSeeds | null {
  const drafts = group.drafts.filter(({ withdrawn }) => !withdrawn);
  const of = (...kinds: string[]) => drafts.filter(({ held }) => kinds.includes(held.state.kind));
  const [containers, fills, suites] = [of('container'), of('fill'), of('analyte-suite').flatMap(askedAnew)];
  const touched = of(...OF_VISIT)
    .flatMap(sides)
    .flatMap(({ visit }) => visit ?? []);
  const changed = new Set([...touched, ...group.gathered.affected]);
  const visits = [...changed].filter((visit) => hasSamples(group, visit));
  const replanned = of('event').filter(isReplanned);
  const events = [...group.gathered.events, ...replanned.map(({ held }) => held.state.id)];
  const otherPlans = of('planned-sample').filter(isOtherPlan);
  const all = [containers, fills, suites, visits, events, otherPlans];
  if (all.every(({ length }) => length === 0)) return null;
  return {
    containers: [
      ...containers.map(({ held }) => held.state.id),
      ...fills.flatMap(sides).flatMap(({ state }) => textOf(state.fields.container)),
    ],
    visits,
    events,
    replanned: otherPlans.map(({ held }) => held.state.id),
    suites,
    labels: containers.filter(labelTells).flatMap(sides).map(labelOf),
  };
}

function nowAndBefore(containers: readonly Held[], { drafts }: Pick<Group, 'drafts'>): readonly Held[] {
  const ids = new Set(containers.map(({ state }) => state.id));
  return [...containers, ...drafts.flatMap(({ before: one }) => (one && ids.has(one.state.id) ? [one] : []))];
}

/** Whose containers these are, as it is now and as it was. */
export function samplesNamed(containers: readonly Held[], group: Pick<Group, 'drafts'>): readonly string[] {
  return nowAndBefore(containers, group)
    .filter((one) => !isOfNoSample(one))
    .flatMap(({ state }) => textOf(state.fields.sample));
}

/** The planned samples that alone tell, or told, whose containers these are. */
export function plansNamed(containers: readonly Held[], group: Pick<Group, 'drafts'>): readonly string[] {
  return nowAndBefore(containers, group)
    .filter(isLabelledOnly)
    .flatMap(({ state }) => textOf(state.fields.planned));
}
