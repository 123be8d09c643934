import type { SamplingPlan } from '../../protocol/sampling-plan.ts';
import type { ContainerRecord } from '../samples/sample-records.ts';
import type { PlanIds } from './plan-ids.ts';
import { becausePlan, isDroppedByPlan } from './plan-reasons.ts';
import type { Change, Fields, ProposedContainer } from './proposed.ts';
import { type SuiteBook, suiteLaboratory } from './suite-book.ts';
import type { Bottle } from './wanted-bottles.ts';

export interface ContainersOf {
  readonly planned: string;
  readonly event: string;
  /** Of the planned sample, where it says one for all of its containers. */
  readonly laboratory: string | null;
  /** Nothing changes at what was taken. */
  readonly isFixed: boolean;
  /** Dropped by a plan and taken all the same: what was dropped with it is to be filled, or to be said to be left out. */
  readonly isBack?: boolean;
  /** Why what is not wanted is dropped, in words after "By the plan: ". */
  readonly because: string;
}

export interface BookOfPlan {
  readonly ids: PlanIds;
  readonly book: SuiteBook;
  readonly plan: SamplingPlan | null;
}

function fieldsOf(bottle: Bottle, { planned, event }: ContainersOf): Fields {
  return {
    event,
    planned,
    group: bottle.group,
    ...(bottle.alsoGroups.length === 0 ? {} : { alsoGroups: bottle.alsoGroups }),
    ...(bottle.suite === null ? {} : { suite: bottle.suite }),
    type: bottle.type,
    ...(bottle.materials[0] === undefined ? {} : { material: bottle.materials[0] }),
    ...(bottle.colour === null ? {} : { colour: bottle.colour }),
    preservatives: bottle.preservatives[0] ?? [],
    volumeMl: String(bottle.volumeMl),
    standing: 'expected',
  };
}

function same(a: unknown, b: unknown): boolean {
  return JSON.stringify(a ?? null) === JSON.stringify(b ?? null);
}

/** What a person chose among what is allowed stays as it is. */
function changesOf({ fields }: ContainerRecord, bottle: Bottle): Fields {
  const also = bottle.alsoGroups.length === 0 ? null : bottle.alsoGroups;
  const isAllowed = bottle.preservatives.some((set) => same(set, fields.preservatives));
  const isMaterial = fields.material !== undefined && bottle.materials.includes(fields.material);
  return {
    ...(same(fields.alsoGroups, also) ? {} : { alsoGroups: also }),
    ...(same(fields.suite, bottle.suite) ? {} : { suite: bottle.suite }),
    ...(fields.type === bottle.type ? {} : { type: bottle.type }),
    ...(Number(fields.volumeMl) === bottle.volumeMl ? {} : { volumeMl: String(bottle.volumeMl) }),
    ...(isAllowed ? {} : { preservatives: bottle.preservatives[0] ?? [] }),
    ...(isMaterial || bottle.materials.length === 0 ? {} : { material: bottle.materials[0] }),
    ...(bottle.colour === null || fields.colour === bottle.colour ? {} : { colour: bottle.colour }),
    ...(fields.standing === 'dropped' ? { standing: 'expected', droppedBecause: null } : {}),
  };
}

function told(fields: Fields, laboratory: string | null) {
  const { label, group, alsoGroups, suite, type, material, colour, preservatives, volumeMl, standing } =
    fields as Partial<ContainerRecord['fields']>;
  return {
    label: label ?? null,
    group: group ?? '',
    alsoGroups: alsoGroups ?? [],
    suite: suite ?? null,
    type: type ?? 'bottle',
    material: material ?? null,
    colour: colour ?? null,
    preservatives: preservatives ?? null,
    volumeMl: volumeMl ?? '0',
    laboratory,
    standing: standing ?? 'expected',
  } as const;
}

function withNulls(fields: Fields): Fields {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== null));
}

function existing(record: ContainerRecord, set: Fields, change: Change, laboratory: string | null): ProposedContainer {
  const { id, rev, fields } = record;
  const isSame = Object.keys(set).length === 0;
  const after = withNulls({ ...fields, ...set });
  return { id, rev, change: isSame ? 'kept' : change, set: isSame ? null : set, ...told(after, laboratory) };
}

/** A dropped one of the plan's may come back; one that a person dropped, or that holds water, is let be. */
function mayChange({ fields }: ContainerRecord): boolean {
  if (fields.sample !== undefined || fields.blank !== undefined) return false;
  return fields.standing === 'expected' || (fields.standing === 'dropped' && isDroppedByPlan(fields.droppedBecause));
}

/** Why a plan drops some bottles of a sample that stays, in words after "By the plan: ". */
export const GROUP_NOT_ASKED = 'its group is not asked for any more';

/** Dropped with its sample, and not because its own group is asked for no more. */
function comesBack(record: ContainerRecord): boolean {
  const { standing, droppedBecause } = record.fields;
  return standing === 'dropped' && mayChange(record) && droppedBecause !== becausePlan(GROUP_NOT_ASKED);
}

interface Matched {
  readonly proposed: readonly ProposedContainer[];
  readonly used: ReadonlySet<string>;
}

/** Each bottle under its id: by group, from 1. Containers that a person made for a group count among those it needs. */
function matchBottles(
  given: ContainersOf,
  bottles: readonly Bottle[],
  there: ReadonlyMap<string, ContainerRecord>,
  own: ReadonlySet<string>,
  ids: PlanIds,
): Matched {
  const places = new Map<string, number>();
  const used = new Set<string>();
  const byHand = new Map<string, number>();
  for (const { id, fields } of there.values())
    if (!own.has(id) && fields.standing !== 'dropped' && fields.standing !== 'discarded')
      byHand.set(fields.group, (byHand.get(fields.group) ?? 0) + 1);
  const proposed = bottles.flatMap((bottle): ProposedContainer[] => {
    const hands = byHand.get(bottle.group) ?? 0;
    if (hands > 0) {
      byHand.set(bottle.group, hands - 1);
      return [];
    }
    const place = (places.get(bottle.group) ?? 0) + 1;
    places.set(bottle.group, place);
    const id = ids.container(given.planned, bottle.group, place);
    const record = there.get(id);
    if (!record) {
      const fields = fieldsOf(bottle, given);
      return [{ id, rev: null, change: 'new', set: fields, ...told(fields, bottle.laboratory) }];
    }
    used.add(id);
    const change = record.fields.standing === 'dropped' ? 'taken-up' : 'changed';
    return [existing(record, mayChange(record) ? changesOf(record, bottle) : {}, change, bottle.laboratory)];
  });
  return { proposed, used };
}

/** The containers of a planned sample as they are to be, beside those that are there. */
export function reconcileContainers(
  given: ContainersOf,
  bottles: readonly Bottle[],
  there: readonly ContainerRecord[],
  { ids, book, plan }: BookOfPlan,
): readonly ProposedContainer[] {
  const goesTo = ({ fields }: ContainerRecord) =>
    given.laboratory ?? suiteLaboratory(book, plan, fields.suite, fields.group);
  const back = (one: ContainerRecord) =>
    given.isBack && comesBack(one) ? { standing: 'expected', droppedBecause: null } : {};
  if (given.isFixed) return there.map((one) => existing(one, back(one), 'taken-up', goesTo(one)));
  const own = ids.ownContainers(
    given.planned,
    there.map(({ fields }) => fields.group),
  );
  const { proposed, used } = matchBottles(given, bottles, new Map(there.map((one) => [one.id, one])), own, ids);
  const rest = there.filter(({ id }) => !used.has(id));
  return [
    ...proposed,
    ...rest.map((one) => {
      const goes = one.fields.standing === 'expected' && mayChange(one) && own.has(one.id);
      const set = goes ? { standing: 'dropped', droppedBecause: becausePlan(given.because) } : {};
      return existing(one, set, 'dropped', goesTo(one));
    }),
  ];
}
