import { criteriaSet, isVerified } from '../../catalog/criteria-sets.ts';
import { PARAMETERS } from '../../catalog/parameters.ts';
import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { adviceFor } from './advice.ts';
import type { AssessmentInput } from './assessment-input.ts';
import { callAgreement } from './call-agreement.ts';
import { conditionsMetAt } from './conditions-at.ts';
import { decisionsAt } from './decisions.ts';
import { describeConditions } from './describe-conditions.ts';
import { describeOthers, describeParameter, type JudgedParameter } from './describe-parameter.ts';
import { itemAt } from './item-at.ts';
import { limitsOf } from './limits.ts';
import { missingAt } from './missing.ts';
import { otherArithmetics } from './other-arithmetics.ts';
import { type PurgeRun, purgeRun } from './purge-run.ts';
import { type ReadPlan, readPlan } from './read-plan.ts';
import { firstStable, judgedAt, stableAt } from './stable-at.ts';
import { wholeWindow } from './standing.ts';
import { withoutCriteria } from './without-criteria.ts';

function criteriaOf({ set }: ReadPlan): AssessmentFields['criteria'] {
  const { id, document, edition, source } = set;
  return { id, document, edition, source, verified: isVerified(set) };
}

function arithmeticsOf({ set, options, from }: ReadPlan) {
  const why = (option: 'percentArithmetic' | 'absoluteArithmetic') =>
    from(option) === 'plan' ? "The event's plan says so" : set[option].why;
  return {
    percentArithmetic: {
      id: options.percentArithmetic,
      from: from('percentArithmetic'),
      why: why('percentArithmetic'),
    },
    absoluteArithmetic: {
      id: options.absoluteArithmetic,
      from: from('absoluteArithmetic'),
      why: why('absoluteArithmetic'),
    },
  };
}

function idsOf(run: PurgeRun, indices: readonly number[]): string[] {
  return indices.map((index) => itemAt(run.readings, index).record.id);
}

function firstHeld(run: PurgeRun, end: number) {
  const reading = run.readings[end];
  if (reading === undefined) return {};
  return {
    firstHeldAt: reading.record.fields.observed.at,
    firstHeldWindow: idsOf(run, wholeWindow(run, end).indices),
  };
}

function inOrder(parameters: readonly JudgedParameter[]): JudgedParameter[] {
  return parameters.toSorted((a, b) => PARAMETERS.indexOf(a.parameter) - PARAMETERS.indexOf(b.parameter));
}

function assess(run: PurgeRun): AssessmentFields {
  const end = run.readings.length - 1;
  const whole = wholeWindow(run, end);
  const judged = run.parameters.map((parameter) => judgedAt(run, parameter, end));
  const described = judged.map((one) => describeParameter(run, one, end, whole));
  const conditions = describeConditions(run, end, whole);
  const stable = stableAt(run, end);
  const missing = missingAt(run, end, whole, judged);
  const latest = run.readings[end];
  const heldFirst = firstStable(run);
  const limits = limitsOf(run, heldFirst);
  return {
    purge: run.input.purge.id,
    criteria: criteriaOf(run.plan),
    ...arithmeticsOf(run.plan),
    decisions: decisionsAt(run, end, whole, judged),
    stable,
    ...(latest === undefined ? {} : { latestReadingAt: latest.record.fields.observed.at }),
    window: idsOf(run, whole.indices),
    readingsNeeded: run.plan.readingsNeeded,
    ...firstHeld(run, heldFirst),
    parameters: inOrder([...described, ...describeOthers(run, whole)]),
    conditions,
    ...(limits.length === 0 ? {} : { limits }),
    missing,
    advice: adviceFor(run, { judged, described, conditions, limits, stable }),
    otherArithmetics: otherArithmetics(run, judged, conditionsMetAt(run, end, whole)),
    call: callAgreement(run, { stable, missing }),
  };
}

/**
 * Says whether the water of a purge is stable, by the criteria and options of the event's plan, and why. It depends on
 * what the records say and on nothing else: not on the order in which they came, nor on the time at which one asks.
 */
export function assessPurge(input: AssessmentInput): AssessmentFields {
  const set = criteriaSet(input.plan.criteria);
  if (set === undefined) return withoutCriteria(input);
  return assess(purgeRun(input, readPlan(input.plan, set)));
}
