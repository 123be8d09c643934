import type { StabilizationPlan } from '../../protocol/event-plan.ts';
import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { extent } from '../../science/within/extent.ts';
import type { Window } from './choose-window.ts';
import { turnoverAt, volumesAt } from './conditions-at.ts';
import { itemAt } from './item-at.ts';
import { type Judged, wasOverRange } from './parameter-text.ts';
import type { PurgeRun } from './purge-run.ts';
import { isMet, valuesOf } from './standing.ts';

type Decision = AssessmentFields['decisions'][number];

function decision(run: PurgeRun, option: keyof StabilizationPlan, choice: string | number, why: string): Decision {
  return { option, choice: String(choice), from: run.plan.from(option), why };
}

/** Choices that bear on the window as a whole. */
function ofWindow(run: PurgeRun, end: number, whole: Window): Decision[] {
  const { options } = run.plan;
  const moment = run.moments[end];
  const found: Decision[] = [];
  const short = whole.indices.slice(1).some((index, at) => {
    const before = itemAt(run.moments, itemAt(whole.indices, at));
    const after = itemAt(run.moments, index);
    return after.atMs - before.atMs < after.intervalMs;
  });
  if (short)
    found.push(
      decision(run, 'graceS', options.graceMs / 1_000, 'An interval is shorter than asked for, within the grace.'),
    );
  if (whole.shortfall === 'gap') {
    found.push(
      decision(run, 'largestGapS', options.largestGapMs / 1_000, 'A gap between readings is too long for one window.'),
    );
  }
  if (moment?.interruption) {
    found.push(
      decision(
        run,
        'afterInterruption',
        options.afterInterruption,
        `The window begins anew since ${moment.interruption.what}.`,
      ),
    );
  }
  return found;
}

/** Choices that make the criteria stricter or looser for every parameter. */
function ofPlan(run: PurgeRun, end: number): Decision[] {
  const { options } = run.plan;
  const found: Decision[] = [];
  if (options.count === 'comparisons') {
    found.push(
      decision(run, 'count', options.count, `Counted in comparisons, which takes ${run.plan.readingsNeeded} readings.`),
    );
  }
  if (options.windows === 'own-time') {
    found.push(decision(run, 'windows', options.windows, 'Each parameter may be stable at its own time.'));
  }
  if (turnoverAt(run, end) === 'not-known') {
    found.push(decision(run, 'whenUnknown', options.whenUnknown, 'The turnover of the flow cell cannot be checked.'));
  }
  if (volumesAt(run, end) === 'not-known') {
    found.push(decision(run, 'whenUnknown', options.whenUnknown, 'What must be drawn cannot be checked.'));
  }
  return found;
}

/** Whether the window has readings on both sides of a threshold of its criterion, or at one the wording leaves open. */
function atThresholds(run: PurgeRun, { parameter, standing }: Judged): Decision[] {
  const { lowValueStraddle, lowValueEquality } = run.plan.options;
  const window = valuesOf(parameter.series, standing.window);
  const { smallest, largest } = extent(window);
  return parameter.judge.branches.flatMap((branch, index) => {
    if (branch.below === null) return [];
    const found: Decision[] = [];
    if (smallest < branch.threshold && largest >= branch.threshold) {
      found.push(
        decision(run, 'lowValueStraddle', lowValueStraddle, `Readings lie on both sides of ${branch.below.value}.`),
      );
    }
    const unsaid = parameter.criterion.branches[index]?.atThreshold === 'unsaid';
    if (unsaid && window.includes(branch.threshold)) {
      found.push(
        decision(
          run,
          'lowValueEquality',
          lowValueEquality,
          `A reading is exactly ${branch.below.value}, which the wording leaves open.`,
        ),
      );
    }
    return found;
  });
}

function ofValues(run: PurgeRun, end: number, { parameter, standing }: Judged): Decision[] {
  const { series, required } = parameter;
  const { options } = run.plan;
  const first = run.moments[end]?.firstCounted ?? 0;
  const overRange = wasOverRange(run, parameter, end);
  const lacks = series.quantities.some((quantity, index) => quantity === undefined && index >= first && index <= end);
  const found: Decision[] = [];
  if (lacks) found.push(decision(run, 'missing', options.missing, 'A reading lacks this parameter.'));
  if (overRange) found.push(decision(run, 'overRange', options.overRange, 'The meter was over its range.'));
  if (!required && !isMet(standing)) {
    found.push(decision(run, 'parameters', 'advisory', 'It is not met and does not keep the well unstable.'));
  }
  return found;
}

function ofComparison(run: PurgeRun, { parameter, standing }: Judged): Decision[] {
  const { roundToPlaces } = run.plan.options.parameters[parameter.series.parameter];
  const found: Decision[] = [];
  if (standing.finding?.rule === 'sensor-floor') {
    found.push(decision(run, 'parameters', 'sensor-floor', 'Its spread is below what the sensor resolves.'));
  }
  if (roundToPlaces !== null && standing.finding !== null) {
    found.push(decision(run, 'parameters', 'round-to', 'Readings were rounded before they were compared.'));
  }
  return found;
}

/** The choices which the criteria leave open and that mattered in the window that ends at a reading. */
export function decisionsAt(run: PurgeRun, end: number, whole: Window, judged: readonly Judged[]): Decision[] {
  const ofParameters = judged.flatMap((one) => {
    const thresholds = one.standing.finding === null ? [] : atThresholds(run, one);
    const all = [...thresholds, ...ofValues(run, end, one), ...ofComparison(run, one)];
    return all.map((found) => ({ ...found, parameter: one.parameter.series.parameter }));
  });
  return [...ofWindow(run, end, whole), ...ofPlan(run, end), ...ofParameters];
}
