import type { CriteriaSet, Criterion } from '../../src/catalog/criteria-set.ts';
import { criteriaSet } from '../../src/catalog/criteria-sets.ts';
import type { StabilizationPlan } from '../../src/protocol/event-plan.ts';
import type { AssessmentInput } from '../../src/rules/assessment/assessment-input.ts';
import { type Axis, axisOf } from './axis.ts';
import { type DrawdownSeen, drawdownAt, minimumPurgeAt } from './conditions.ts';
import type { Exact } from './exact.ts';
import { latestInterruption, walk } from './interruptions.ts';
import { type LimitSeen, limitsSeen } from './limits.ts';
import { type Arithmetics, byCriterion, bySaturation, keepsUpperLimit, type Met } from './tolerances.ts';
import { type Quantity, quantitiesOf, type Said, said } from './values.ts';
import { askedVolume, drawnOf, type Ground, groundOf } from './volumes.ts';
import { type Course, turnoverAsked, turnoverMs, windowOf } from './windows.ts';

export type Status = Met | 'not-judged' | 'not-a-criterion';

export interface SecondParameter {
  readonly parameter: string;
  readonly status: Status;
  readonly required: boolean;
  readonly readings: readonly string[];
}

export interface SecondAssessment {
  readonly stable: boolean;
  readonly window: readonly string[];
  readonly firstHeldAt: string | null;
  readonly firstHeldWindow: readonly string[] | null;
  readonly parameters: readonly SecondParameter[];
  readonly drawdown: string;
  readonly minimumPurge: string;
  readonly stableAtCall: boolean | null;
  readonly limits: readonly LimitSeen[];
}

interface Judged {
  readonly status: Status;
  readonly window: readonly number[];
}

interface Purge {
  readonly set: CriteriaSet;
  readonly plan: StabilizationPlan;
  readonly axis: Axis;
  readonly course: Course;
  readonly ground: Ground;
  readonly says: ReadonlyMap<Quantity, readonly Said[]>;
  readonly by: Arithmetics;
}

const isMet = (status: Status | undefined) => status === 'stable' || status === 'low-value';

function courseOf(set: CriteriaSet, plan: StabilizationPlan, axis: Axis, ground: Ground) {
  const walked = walk(axis, plan, quantitiesOf(set));
  const asked = turnoverAsked(set, plan);
  const turnover = turnoverMs(axis, walked, ground, set);
  const leastMs =
    plan.minimumIntervalS != null
      ? plan.minimumIntervalS * 1_000
      : Number(set.minimumIntervalMin?.value ?? '3') * 60_000;
  const meter = axis.readings.at(-1)?.record.fields.meter;
  const course: Course = {
    axis,
    walked,
    plan,
    intervalMs: turnover.map((ms) => Math.max(leastMs, asked ? (ms ?? 0) : 0)),
    turnoverKnown: turnover.map((ms) => ms !== null),
    turnoverAsked: asked,
    drawn: drawnOf(axis, walked),
    first: askedVolume('beforeFirstReading', set, plan, ground, meter),
    between: askedVolume('betweenReadings', set, plan, ground, meter),
    full: Number(set.readings.value) + (plan.count === 'comparisons' ? 1 : 0),
  };
  return course;
}

function valuesOf(says: readonly Said[], window: readonly number[]): readonly Exact[] {
  return window.flatMap((at) => {
    const what = says[at];
    return what?.is === 'value' ? [what.value] : [];
  });
}

/** Rule A17: the window of a quantity where it may be judged, else null. */
function judgeable({ course }: Purge, says: readonly Said[], end: number): readonly number[] | null {
  const ofPurge = windowOf(course, end);
  const own = windowOf(course, end, says);
  if (ofPurge.length < course.full || own.length < course.full) return null;
  const isStale = (own.at(-1) ?? -1) < (ofPurge.at(-2) ?? -1);
  return isStale ? null : own;
}

/** Rules A14 to A17 and A26 for one parameter at one end. */
function judgedAt(purge: Purge, criterion: Criterion, end: number): Judged {
  const { parameter, orInPercentSaturation } = criterion;
  const own = purge.says.get(parameter) ?? [];
  const inSaturation = purge.says.get('oxygen-saturation') ?? [];
  const window = judgeable(purge, own, end);
  const values = window && valuesOf(own, window);
  const byOwn: Status = values ? inOwnUnit(purge, criterion, values) : 'not-judged';
  const shown = { status: byOwn, window: windowOf(purge.course, end, own) };
  const other = orInPercentSaturation && !isMet(byOwn) ? judgeable(purge, inSaturation, end) : null;
  if (!orInPercentSaturation || other === null) return shown;
  const byOther = bySaturation(orInPercentSaturation, valuesOf(inSaturation, other), purge.by);
  return isMet(byOther) || values === null ? { status: byOther, window: other } : shown;
}

/** Rules A14 to A16, and the upper limit of A26 besides. */
function inOwnUnit({ plan, by }: Purge, criterion: Criterion, values: readonly Exact[]): Met {
  const met = byCriterion(criterion, values, plan, by);
  return keepsUpperLimit(criterion, values, plan) ? met : 'not-stable';
}

/** Rule A24: with own-time, as at the latest end with the same latest interruption at which it was met. */
function shownAt(purge: Purge, criterion: Criterion, end: number): Judged {
  const now = judgedAt(purge, criterion, end);
  if (purge.plan.windows !== 'own-time' || isMet(now.status)) return now;
  const { walked, axis } = purge.course;
  const interruptionAt = (at: number) => latestInterruption(walked, axis.readings[at]?.order ?? -1);
  for (let at = end - 1; at >= 0 && interruptionAt(at) === interruptionAt(end); at -= 1) {
    const then = judgedAt(purge, criterion, at);
    if (isMet(then.status)) return then;
  }
  return now;
}

function isRequired({ set, plan }: Purge, parameter: Criterion['parameter']): boolean {
  const criterion = set.criteria.find((one) => one.parameter === parameter);
  const use = plan.parameters?.[parameter]?.use ?? (criterion?.optional ? 'advisory' : 'required');
  return use === 'required';
}

/** Rule A18: whether what cannot be checked keeps a well from being stable. */
function isUnknownKept({ set, plan }: Purge): boolean {
  if (plan.whenUnknown != null) return plan.whenUnknown === 'not-stable';
  const asks = (own: { amount: string } | null | undefined, ofSet: unknown) =>
    own == null ? ofSet !== undefined : Number(own.amount) !== 0;
  const volumes =
    asks(plan.beforeFirstReading, set.beforeFirstReading) || asks(plan.betweenReadings, set.betweenReadings);
  return volumes || set.steadyLevel === 'required';
}

function unknownsKeepIt(purge: Purge, end: number): boolean {
  const { course } = purge;
  if (!isUnknownKept(purge)) return false;
  if (course.turnoverAsked && !course.turnoverKnown[end]) return true;
  const asked = [course.first, course.between].filter(({ is }) => is !== 'nothing');
  return asked.some(({ is }) => is === 'not-known') || (asked.length > 0 && course.drawn[end] == null);
}

function drawdown(purge: Purge, end: number): DrawdownSeen {
  const { axis, course, ground, plan, set } = purge;
  return drawdownAt({ axis, ground, plan, set, drawn: course.drawn }, windowOf(course, end)[0] ?? end, end);
}

function conditionsHold(purge: Purge, end: number): boolean {
  const { plan, set, axis, course, ground } = purge;
  const unknownKeeps = isUnknownKept(purge);
  const level = drawdown(purge, end);
  const steady = plan.drawdown?.steady ?? set.steadyLevel ?? 'reported';
  if (steady === 'required' && level.isSteady === false) return false;
  if (steady === 'required' && level.isSteady === null && unknownKeeps) return false;
  const minimum = minimumPurgeAt({ axis, ground, plan, set, drawn: course.drawn }, level, end);
  if (plan.minimumPurge === 'required' && minimum === 'not-met') return false;
  if (plan.minimumPurge === 'required' && minimum === 'not-known' && unknownKeeps) return false;
  return !unknownsKeepIt(purge, end);
}

/** Rule A22. */
function isStableAt(purge: Purge, end: number): boolean {
  if (windowOf(purge.course, end).length < purge.course.full) return false;
  const required = purge.set.criteria.filter(({ parameter }) => isRequired(purge, parameter));
  return required.every((criterion) => isMet(shownAt(purge, criterion, end).status)) && conditionsHold(purge, end);
}

const NOTHING: SecondAssessment = {
  stable: false,
  window: [],
  firstHeldAt: null,
  firstHeldWindow: null,
  parameters: [],
  drawdown: 'not-known',
  minimumPurge: 'not-known',
  stableAtCall: null,
  limits: [],
};

/** A second implementation of rules A1 to A27, written from their prose and the criteria data alone. */
export function assessAgain(input: AssessmentInput): SecondAssessment {
  const set = criteriaSet(input.plan.criteria);
  if (!set) return NOTHING;
  const plan = input.plan.stabilization ?? {};
  const axis = axisOf(input);
  const ground = groundOf(input, axis);
  const course = courseOf(set, plan, axis, ground);
  const says = new Map(
    quantitiesOf(set).map((quantity) => [quantity, axis.readings.map(({ record }) => said(record, quantity, plan))]),
  );
  const by = {
    percent: plan.percentArithmetic ?? set.percentArithmetic.id,
    absolute: plan.absoluteArithmetic ?? set.absoluteArithmetic.id,
  };
  return report({ set, plan, axis, course, ground, says, by });
}

function report(purge: Purge): SecondAssessment {
  const { axis, course, set } = purge;
  const idsOf = (window: readonly number[]) => window.map((at) => axis.readings[at]?.record.id ?? '');
  const stable = axis.readings.map((_, end) => isStableAt(purge, end));
  const first = stable.indexOf(true);
  const end = axis.readings.length - 1;
  const call = axis.calls.at(-1);
  const beforeCall = axis.readings.filter(({ order }) => call !== undefined && order < call.order).length;
  const level = end < 0 ? null : drawdown(purge, end);
  return {
    stable: stable.at(-1) ?? false,
    window: end < 0 ? [] : idsOf(windowOf(course, end)),
    firstHeldAt: axis.readings[first]?.record.fields.observed.at ?? null,
    firstHeldWindow: first === -1 ? null : idsOf(windowOf(course, first)),
    parameters: set.criteria.map((criterion) => {
      const shown = end < 0 ? { status: 'not-judged' as const, window: [] } : shownAt(purge, criterion, end);
      const { parameter } = criterion;
      return { parameter, status: shown.status, required: isRequired(purge, parameter), readings: idsOf(shown.window) };
    }),
    drawdown: level?.status ?? 'not-known',
    minimumPurge: level
      ? minimumPurgeAt({ axis, ground: purge.ground, plan: purge.plan, set, drawn: course.drawn }, level, end)
      : set.minimumPurge
        ? 'not-known'
        : 'not-a-condition',
    stableAtCall: call === undefined ? null : (stable[beforeCall - 1] ?? false),
    limits: limitsSeen({ axis, set, plan: purge.plan, ground: purge.ground, drawn: course.drawn }, stable),
  };
}
