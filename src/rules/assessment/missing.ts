import { PARAMETER_NAMES } from '../../catalog/parameters.ts';
import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import type { Window } from './choose-window.ts';
import type { JudgedParameter } from './describe-parameter.ts';
import type { PurgeRun } from './purge-run.ts';
import { shortfallText } from './shortfall-text.ts';

function isUnmet({ required, status }: JudgedParameter): boolean {
  return required && status !== 'stable' && status !== 'low-value';
}

function neverRead(run: PurgeRun): string[] {
  return run.parameters
    .filter(({ required, series }) => required && series.values.every(Number.isNaN) && !series.overRange.includes(true))
    .map(({ series }) => `${PARAMETER_NAMES[series.parameter].name}: it was not read yet.`);
}

function ofConditions(run: PurgeRun, conditions: AssessmentFields['conditions']): string[] {
  const unknownFails = run.plan.options.whenUnknown === 'not-stable';
  const { interval, drawdown, minimumPurge } = conditions;
  const unmet: string[] = [];
  if (unknownFails && interval.turnover === 'not-known') unmet.push(TURNOVER_UNKNOWN);
  if (drawdown.required && drawdown.status === 'not-steady') unmet.push(`Drawdown: ${drawdown.because}`);
  if (drawdown.required && drawdown.spreadFt === undefined && unknownFails) unmet.push(`Drawdown: ${LEVELS_UNKNOWN}`);
  const purgeFails = minimumPurge.status === 'not-met' || (minimumPurge.status === 'not-known' && unknownFails);
  if (minimumPurge.required && purgeFails) unmet.push(`Minimum purge: ${minimumPurge.because}`);
  return unmet;
}

const TURNOVER_UNKNOWN = 'Flow cell: its volume or the flow is not recorded, so its turnover cannot be checked.';
const LEVELS_UNKNOWN = 'two pumping levels in the window are needed to see that it is steady.';

/** What keeps the purge from being stable at a reading, in plain sentences; empty when it is stable. */
export function missingAt(
  run: PurgeRun,
  end: number,
  whole: Window,
  parameters: readonly JudgedParameter[],
  conditions: AssessmentFields['conditions'],
): string[] {
  if (whole.shortfall !== null) return [shortfallText(run, end, whole), ...(end < 0 ? [] : neverRead(run))];
  const unmet = parameters.filter(isUnmet);
  const ofParameters = unmet.map(({ parameter, because }) => `${PARAMETER_NAMES[parameter].name}: ${because}`);
  return [...ofParameters, ...ofConditions(run, conditions)];
}
