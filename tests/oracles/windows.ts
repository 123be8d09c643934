import type { CriteriaSet } from '../../src/catalog/criteria-set.ts';
import type { StabilizationPlan } from '../../src/protocol/event-plan.ts';
import type { Axis } from './axis.ts';
import { compare, dividedBy, exact, roundedUp, times, whole } from './exact.ts';
import { latestInterruption, type Walked } from './interruptions.ts';
import type { Said } from './values.ts';
import type { Asked, Ground } from './volumes.ts';

/** Everything that a window is chosen by. */
export interface Course {
  readonly axis: Axis;
  readonly walked: Walked;
  readonly plan: StabilizationPlan;
  /** interval(j) of each reading, in milliseconds; infinite where no water moves. */
  readonly intervalMs: readonly number[];
  readonly turnoverKnown: readonly boolean[];
  readonly turnoverAsked: boolean;
  readonly drawn: readonly (number | null)[];
  readonly first: Asked;
  readonly between: Asked;
  /** How many readings make a full window. */
  readonly full: number;
}

export function turnoverAsked(set: CriteriaSet, plan: StabilizationPlan): boolean {
  if (plan.turnover != null) return plan.turnover === 'required';
  return set.turnoverCellVolumes !== undefined;
}

/** Rule A18: T(j) in milliseconds; null where it is not known. */
export function turnoverMs(axis: Axis, walked: Walked, ground: Ground, set: CriteriaSet): (number | null)[] {
  return axis.readings.map(({ record }, at) => {
    const flow = walked.flowAfter[at] ?? null;
    const cell = ground.cellMl(record.fields.meter);
    if (cell === null || flow === null) return null;
    if (compare(flow, whole(0)) <= 0) return Number.POSITIVE_INFINITY;
    const once = roundedUp(dividedBy(times(exact(cell), whole(60_000)), flow));
    return Number(once) * Number(set.turnoverCellVolumes?.value ?? '1');
  });
}

/** Rule A4: whether a reading counts at an end, as far as interruptions go. */
function firstAfterInterruption(course: Course, end: number): number {
  const interruption = latestInterruption(course.walked, course.axis.readings[end]?.order ?? -1);
  if (interruption === undefined) return 0;
  const graceMs = (course.plan.graceS ?? 30) * 1_000;
  for (let j = interruption.from; j <= end; j += 1) {
    if (course.plan.afterInterruption === 'next-reading') return j;
    const after = (course.axis.readings[j]?.at ?? 0) - interruption.at;
    if (after >= (course.intervalMs[j] ?? 0) - graceMs) return j;
  }
  return end + 1;
}

/** Rule A21: the first reading at which enough had been drawn. */
function firstByVolume(course: Course, end: number): number {
  const { first, drawn } = course;
  if (first.is !== 'volume' || drawn[end] == null) return 0;
  const found = drawn.findIndex((ml) => ml != null && ml >= first.ml);
  return found === -1 ? end + 1 : found;
}

/** Rule A17: where a quantity begins, by what readings up to the end say of it. */
function firstOfQuantity(says: readonly Said[], end: number, plan: StabilizationPlan): number {
  let begin = 0;
  let field: string | undefined;
  for (const [at, what] of says.slice(0, end + 1).entries()) {
    if (what.is === 'missing') {
      if (plan.missing === 'break') begin = at + 1;
      continue;
    }
    const isTurbidity = what.field === 'turbidityNtu' || what.field === 'turbidityFnu';
    if (isTurbidity && field !== undefined && field !== what.field) begin = at;
    field = what.field;
    if (what.is === 'over-range' && plan.overRange !== 'skip') begin = at + 1;
  }
  return begin;
}

/** Rules A3 and A21: the readings of a window, earliest first, by their numbers. */
export function windowOf(course: Course, end: number, says?: readonly Said[]): readonly number[] {
  const { axis, drawn, between, plan } = course;
  const earliest = Math.max(
    firstAfterInterruption(course, end),
    firstByVolume(course, end),
    says ? firstOfQuantity(says, end, plan) : 0,
  );
  const taken: number[] = [];
  for (let i = end; i >= earliest && taken.length < course.full; i -= 1) {
    if (says && says[i]?.is !== 'value') continue;
    const j = taken[0];
    if (j !== undefined) {
      const apart = (axis.readings[j]?.at ?? 0) - (axis.readings[i]?.at ?? 0);
      const interval = course.intervalMs[j] ?? 0;
      if (apart < interval - (plan.graceS ?? 30) * 1_000) continue;
      if (between.is === 'volume' && drawn[j] != null) {
        const before = drawn[i];
        if (before == null || (drawn[j] ?? 0) - before < between.ml) continue;
      } else if (apart > Math.max((plan.largestGapS ?? 1_800) * 1_000, 2 * interval)) break;
    }
    taken.unshift(i);
  }
  return taken;
}
