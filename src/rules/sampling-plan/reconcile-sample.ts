import type { PlannedRecord } from '../samples/sample-records.ts';
import type { EventStanding } from './event-standing.ts';
import { becausePlan, isDroppedByPlan } from './plan-reasons.ts';
import type { Fields, PlannedFields, ProposedSample, Wanted } from './proposed.ts';
import { type BookOfPlan, GROUP_NOT_ASKED, reconcileContainers } from './reconcile-containers.ts';

export interface Reconciling extends BookOfPlan {
  readonly event: string;
  readonly standing: EventStanding;
}

function orNothing(fields: Fields): Fields {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== null && value !== undefined));
}

function shown(fields: Partial<PlannedFields>) {
  return {
    number: fields.number ?? null,
    type: fields.type ?? 'normal',
    well: fields.well ?? null,
    of: fields.of ?? null,
    crew: fields.crew ?? null,
    laboratory: fields.laboratory ?? null,
    suites: fields.suites ?? [],
    standing: fields.standing ?? 'planned',
    droppedBecause: fields.droppedBecause ?? null,
    remark: fields.remark ?? null,
  } as const;
}

function newSample(wanted: Wanted, on: Reconciling): ProposedSample {
  const { id, type, well, of, crew, laboratory, suites, remark, bottles } = wanted;
  const fields = orNothing({ event: on.event, type, well, suites, of, crew, laboratory, standing: 'planned', remark });
  const of_ = { planned: id, event: on.event, laboratory, isFixed: false, because: '' };
  return {
    id,
    ...shown(fields as Partial<PlannedFields>),
    isTaken: false,
    isOfPerson: false,
    change: 'new',
    rev: null,
    set: fields,
    containers: reconcileContainers(of_, bottles, [], on),
  };
}

function changesOf({ fields }: PlannedRecord, { type, suites, crew, laboratory, remark }: Wanted): Fields {
  const differs = (now: unknown, then: unknown) => JSON.stringify(now ?? null) !== JSON.stringify(then ?? null);
  return {
    ...(differs(fields.type, type) ? { type } : {}),
    ...(differs(fields.suites, suites) ? { suites } : {}),
    ...(differs(fields.crew, crew) ? { crew } : {}),
    ...(differs(fields.laboratory, laboratory) ? { laboratory } : {}),
    ...(remark !== undefined && differs(fields.remark, remark) ? { remark } : {}),
    ...(fields.standing === 'dropped' ? { standing: 'planned', droppedBecause: null } : {}),
  };
}

/** How a planned sample stands after `set`, with its containers as they are to be. */
function existing(
  record: PlannedRecord,
  set: Fields,
  on: Reconciling,
  bottles: Wanted['bottles'] | null,
  because: string,
  isOfPerson: boolean,
): ProposedSample {
  const { id, rev, fields } = record;
  const after = orNothing({ ...fields, ...set }) as Partial<PlannedFields>;
  const isTaken = on.standing.taken.has(id);
  const given = {
    planned: id,
    event: on.event,
    laboratory: after.laboratory ?? null,
    isFixed: bottles === null,
    isBack: isTaken && after.standing === 'planned',
    because,
  };
  const isSame = Object.keys(set).length === 0;
  const change = fields.standing === 'dropped' ? 'taken-up' : after.standing === 'dropped' ? 'dropped' : 'changed';
  return {
    id,
    ...shown(after),
    isTaken,
    isOfPerson,
    change: isSame ? 'kept' : change,
    rev,
    set: isSame ? null : set,
    containers: reconcileContainers(given, bottles ?? [], on.standing.containersOf.get(id) ?? [], on),
  };
}

/** Dropped by a plan, as its well was left without it, and taken later all the same. */
function takenAfterAll({ fields: { standing, droppedBecause } }: PlannedRecord): Fields {
  const isBack = standing === 'dropped' && isDroppedByPlan(droppedBecause);
  return isBack ? { standing: 'planned', droppedBecause: null } : {};
}

/** Planned, or dropped by a plan and taken all the same, by a crew whose phone did not hear of that. */
export function stands({ id, fields }: PlannedRecord, { standing }: Pick<Reconciling, 'standing'>): boolean {
  return fields.standing === 'planned' || (standing.taken.has(id) && isDroppedByPlan(fields.droppedBecause));
}

/** What is wanted, beside what is there of it: a new sample, one that changes, or one that stays. */
export function wantedSample(wanted: Wanted, on: Reconciling): ProposedSample {
  const record = on.standing.planned.get(wanted.id);
  if (!record) return newSample(wanted, on);
  if (on.standing.taken.has(wanted.id)) return existing(record, takenAfterAll(record), on, null, '', false);
  return existing(record, changesOf(record, wanted), on, wanted.bottles, GROUP_NOT_ASKED, false);
}

/** Planned by a person: the plan leaves it, and gives it containers where it has none. */
export function sampleOfPerson(record: PlannedRecord, bottles: Wanted['bottles'], on: Reconciling): ProposedSample {
  const has = (on.standing.containersOf.get(record.id) ?? []).length > 0;
  const isFixed = has || on.standing.taken.has(record.id) || record.fields.standing === 'dropped';
  return existing(record, {}, on, isFixed ? null : bottles, '', true);
}

/** No longer wanted: dropped with its empty containers, unless water of it was taken. */
export function unwantedSample(record: PlannedRecord, because: string, on: Reconciling): ProposedSample {
  const { standing, droppedBecause } = record.fields;
  if (on.standing.taken.has(record.id)) return existing(record, takenAfterAll(record), on, null, '', false);
  if (standing === 'dropped' && !isDroppedByPlan(droppedBecause)) return existing(record, {}, on, null, '', false);
  // its containers are looked at all the same: a plan may have been cut short between the two
  if (standing === 'dropped') return existing(record, {}, on, [], because, false);
  const set = { standing: 'dropped', droppedBecause: becausePlan(because) };
  return existing(record, set, on, [], because, false);
}
