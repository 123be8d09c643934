import type { CriteriaSet, DrawdownUnit } from '../../src/catalog/criteria-set.ts';
import type { StabilizationPlan } from '../../src/protocol/event-plan.ts';
import type { Axis } from './axis.ts';
import { compare, dividedBy, type Exact, exact, largest, minus, smallest, times, whole } from './exact.ts';
import { cylinderMl, type Ground } from './volumes.ts';

export interface Facts {
  readonly axis: Axis;
  readonly ground: Ground;
  readonly plan: StabilizationPlan;
  readonly set: CriteriaSet;
  readonly drawn: readonly (number | null)[];
}

export interface DrawdownSeen {
  readonly status: 'not-steady' | 'within' | 'steady' | 'not-known' | 'beyond-but-steady';
  readonly drawdown: Exact | null;
  readonly isBeyond: boolean;
  /** Null for fewer than two levels in the window. */
  readonly isSteady: boolean | null;
  /** The pumping levels up to the end. */
  readonly levels: readonly { readonly at: number; readonly depth: Exact }[];
}

interface Limit {
  readonly at: string;
  readonly unit: DrawdownUnit;
}

const METRES_A_FOOT = exact('0.3048');

function pumpingLevels({ axis }: Facts, end: number) {
  const until = axis.readings[end]?.at ?? Number.NEGATIVE_INFINITY;
  const ofReadings = axis.readings.map(({ record, at, order }) => ({ at, order, text: record.fields.depthToWaterFt }));
  const ofLevels = axis.levels
    .filter(({ record }) => record.fields.purpose === 'pumping')
    .map(({ record, at, order }) => ({ at, order, text: record.fields.depthToWaterFt }));
  return [...ofReadings, ...ofLevels]
    .filter(({ at }) => at <= until)
    .toSorted((a, b) => a.order - b.order)
    .flatMap(({ at, text }) => (text == null ? [] : [{ at, depth: exact(text) }]));
}

function limitOf({ plan, set }: Facts): Limit | null {
  const ofPlan: readonly [string | null | undefined, DrawdownUnit][] = [
    [plan.drawdown?.limitFt, 'ft'],
    [plan.drawdown?.limitM, 'm'],
    [plan.drawdown?.limitScreenTopToIntakePercent, 'percent-of-screen-top-to-intake'],
    [plan.drawdown?.limitScreenLengthPercent, 'percent-of-screen-length'],
    [plan.drawdown?.limitWaterColumnPercent, 'percent-of-water-column'],
  ];
  for (const [at, unit] of ofPlan) if (at != null) return { at, unit };
  if (plan.drawdown?.steadyAtAnyDepth) return null;
  return set.drawdownTarget ? { at: set.drawdownTarget.limit.value, unit: set.drawdownTarget.unit } : null;
}

/** Rule A27: what a percentage is of. */
function wholeOf(unit: DrawdownUnit, { ground }: Facts): readonly (string | null | undefined)[] {
  if (unit === 'percent-of-screen-top-to-intake')
    return [ground.depth('screenTopFt'), ground.setUp?.fields.intakeDepthFt];
  if (unit === 'percent-of-screen-length') return [ground.depth('screenTopFt'), ground.depth('screenBottomFt')];
  return [ground.staticFt, ground.depth('totalDepthFt')];
}

/** Whether the drawdown is beyond the limit; null where they cannot be compared. */
function isBeyond(facts: Facts, drawdown: Exact | null): boolean | null {
  const limit = limitOf(facts);
  if (drawdown === null || limit === null) return null;
  if (limit.unit === 'ft') return compare(drawdown, exact(limit.at)) > 0;
  if (limit.unit === 'm') return compare(times(drawdown, METRES_A_FOOT), exact(limit.at)) > 0;
  const [from, to] = wholeOf(limit.unit, facts);
  if (from == null || to == null) return null;
  const length = minus(exact(to), exact(from));
  if (compare(length, whole(0)) <= 0) return null;
  return compare(drawdown, dividedBy(times(length, exact(limit.at)), whole(100))) > 0;
}

const spread = (depths: readonly Exact[]) => minus(largest(depths), smallest(depths));

/** Rules A19 and A27 at an end; `from` is the first reading of the purge's window there. */
export function drawdownAt(facts: Facts, from: number, end: number): DrawdownSeen {
  const { axis, ground, plan } = facts;
  const levels = pumpingLevels(facts, end);
  const begin = axis.readings[from]?.at ?? 0;
  const inWindow = levels.filter(({ at }) => at >= begin).map(({ depth }) => depth);
  const isSteady =
    inWindow.length < 2 ? null : compare(spread(inWindow), exact(plan.drawdown?.steadyWithinFt ?? '0.05')) <= 0;
  const last = levels.at(-1);
  const drawdown = last && ground.staticFt !== null ? minus(last.depth, exact(ground.staticFt)) : null;
  const beyond = isBeyond(facts, drawdown);
  const seen = { drawdown, isBeyond: beyond === true, isSteady, levels };
  if (isSteady === false) return { ...seen, status: 'not-steady' };
  if (beyond === false) return { ...seen, status: 'within' };
  if (beyond === null) return { ...seen, status: isSteady ? 'steady' : 'not-known' };
  return { ...seen, status: isSteady ? 'beyond-but-steady' : 'not-known' };
}

/** The time from which on the pumping levels up to the end spread no more than a steady level does. */
function steadySince({ levels }: DrawdownSeen, withinFt: string): number {
  let since = Number.POSITIVE_INFINITY;
  for (let at = levels.length - 1; at >= 0; at -= 1) {
    if (compare(spread(levels.slice(at).map(({ depth }) => depth)), exact(withinFt)) > 0) break;
    since = levels[at]?.at ?? since;
  }
  return since;
}

/** Rule A20 at an end. */
export function minimumPurgeAt(facts: Facts, seen: DrawdownSeen, end: number): string {
  const { axis, ground, plan, set, drawn } = facts;
  if (set.minimumPurge === undefined) return 'not-a-condition';
  const { casingIn, tubingMl } = ground;
  const total = drawn[end] ?? null;
  if (seen.drawdown === null || casingIn === null || tubingMl === null || total === null) return 'not-known';
  const feet = Math.max(0, Number(seen.drawdown.over) / Number(seen.drawdown.under));
  const needed = cylinderMl(casingIn, feet) + tubingMl;
  let before = 0;
  if (seen.isBeyond) {
    const since = steadySince(seen, plan.drawdown?.steadyWithinFt ?? '0.05');
    const from = axis.readings.findIndex(({ at }) => at >= since);
    before = drawn[from] ?? 0;
  }
  return total - before > needed ? 'met' : 'not-met';
}
