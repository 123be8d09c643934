import { PARAMETER_NAMES } from '../../catalog/parameters.ts';
import type { Window } from './choose-window.ts';
import { describeConditions } from './describe-conditions.ts';
import { becauseText, type Judged } from './parameter-text.ts';
import type { PurgeRun, RunParameter } from './purge-run.ts';
import { shortfallText } from './shortfall-text.ts';
import { isMet } from './standing.ts';

const TURNOVER_UNKNOWN = 'Flow cell: its volume or the flow is not recorded, so its turnover cannot be checked.';
const VOLUMES_UNKNOWN = 'Volumes: what must be drawn cannot be checked. ';
const LEVELS_UNKNOWN = 'Drawdown: two pumping levels in the window are needed to see that it is steady.';

function wasNeverRead({ series, inSaturation }: RunParameter): boolean {
  const never = series.quantities.every((quantity) => quantity === undefined);
  return never && (inSaturation === null || wasNeverRead(inSaturation));
}

function neverRead(run: PurgeRun): string[] {
  return run.parameters
    .filter((parameter) => parameter.required && wasNeverRead(parameter))
    .map(({ series }) => `${PARAMETER_NAMES[series.parameter].name}: it was not read yet.`);
}

/** Conditions are described only where the plan makes one of them part of stability. */
function unmetConditions(run: PurgeRun, end: number, whole: Window): string[] {
  const { options } = run.plan;
  const unknownFails = options.whenUnknown === 'not-stable';
  if (!unknownFails && !options.drawdown.required && options.minimumPurge === 'reported') return [];
  const { interval, drawdown, minimumPurge, volumes } = describeConditions(run, end, whole);
  const unmet: string[] = [];
  if (unknownFails && interval.turnover === 'not-known') unmet.push(TURNOVER_UNKNOWN);
  if (unknownFails && volumes?.status === 'not-known') unmet.push(VOLUMES_UNKNOWN + volumes.because);
  if (drawdown.required && drawdown.status === 'not-steady') unmet.push(`Drawdown: ${drawdown.because}`);
  if (drawdown.required && unknownFails && drawdown.spreadFt === undefined) unmet.push(LEVELS_UNKNOWN);
  const purgeFails = minimumPurge.status === 'not-met' || (unknownFails && minimumPurge.status === 'not-known');
  if (minimumPurge.required && purgeFails) unmet.push(`Minimum purge: ${minimumPurge.because}`);
  return unmet;
}

/** What keeps the purge from being stable at a reading, in plain sentences; empty when it is stable. */
export function missingAt(run: PurgeRun, end: number, whole: Window, judged: readonly Judged[]): string[] {
  if (whole.shortfall !== null) return [shortfallText(run, end, whole), ...(end < 0 ? [] : neverRead(run))];
  const ofParameters = judged
    .filter(({ parameter, standing }) => parameter.required && !isMet(standing))
    .map((one) => `${PARAMETER_NAMES[one.parameter.series.parameter].name}: ${becauseText(run, one, end, whole)}`);
  return [...ofParameters, ...unmetConditions(run, end, whole)];
}
