import { ABSOLUTE_PHRASES, PERCENT_PHRASES } from './arithmetic-phrases.ts';
import type { Window } from './choose-window.ts';
import { comparedText, unitOf, valueTexts } from './figure-texts.ts';
import type { Finding } from './judge.ts';
import type { PurgeRun, RunParameter } from './purge-run.ts';
import { shortfallText, sinceText } from './shortfall-text.ts';
import type { Standing } from './standing.ts';

/** A parameter of the criteria with how it stands at a reading. */
export interface Judged {
  readonly parameter: RunParameter;
  readonly standing: Standing;
  /** The same parameter in its other unit, where the set lets it be met in either; it is not the one shown. */
  readonly beside: Judged | null;
}

function phrase(run: PurgeRun, { rule }: Finding): string {
  if (rule === 'percent') return PERCENT_PHRASES[run.by.percent];
  if (rule === 'at-most') return 'The largest reading';
  return ABSOLUTE_PHRASES[rule === 'absolute' ? run.by.absolute : 'total-spread'];
}

function belowText(run: PurgeRun, limit: string, unit: string): string {
  const { lowValueStraddle, lowValueEquality } = run.plan.options;
  const subject = lowValueStraddle === 'window' ? 'The mean of the window is' : 'Every reading is';
  return `${subject} ${lowValueEquality === 'low' ? 'not above' : 'below'} ${limit} ${unit}, which counts as stable.`;
}

function sideText({ met, tolerance }: Finding): string {
  if (tolerance?.lessThan) return met ? 'less than' : 'not less than';
  return met ? 'within' : 'beyond';
}

/** @param texts the values of the window as they are shown */
export function findingText(run: PurgeRun, judged: Judged, finding: Finding, texts: readonly string[]): string {
  const { parameter, standing } = judged;
  if (finding.figure === null) return 'The criteria give no tolerance for values this high; a person decides.';
  const limit = finding.figure.value;
  const unit = unitOf(parameter, standing.window);
  if (finding.rule === 'below') return belowText(run, limit, unit);
  const compared = comparedText(parameter.series, finding, texts);
  if (compared === null) return 'A percentage of a reading of zero or less means nothing, so it cannot pass.';
  const suffix = finding.rule === 'percent' ? '%' : (finding.tolerance?.unit ?? unit);
  const side = sideText(finding);
  const by = finding.rule === 'sensor-floor' ? ', which the sensor does not resolve by the plan' : '';
  return `${phrase(run, finding)} is ${compared} ${suffix}, ${side} ${limit} ${suffix}${by}.`;
}

/** Whether the meter was over its range since the readings count. */
export function wasOverRange(run: PurgeRun, { series }: RunParameter, end: number): boolean {
  const first = run.moments[end]?.firstCounted ?? 0;
  return series.overRange.some((index) => index >= first && index <= end);
}

/** Why there is nothing to judge. */
export function lackText(run: PurgeRun, judged: Judged, end: number, whole: Window): string {
  const over = wasOverRange(run, judged.parameter, end) ? 'The meter was over its range. ' : '';
  if (whole.shortfall !== null) return over + shortfallText(run, end, whole);
  if (judged.standing.stale) return `${over}It was not read with the latest readings of the window.`;
  const count = `${judged.standing.window.indices.length} of ${run.plan.readingsNeeded}`;
  return `${over}${count} readings have a value that counts${sinceText(run, end)}.`;
}

/** Why a parameter stands as it does, in a sentence with its numbers. */
export function becauseText(run: PurgeRun, judged: Judged, end: number, whole: Window): string {
  const { finding, window } = judged.standing;
  if (finding === null) return lackText(run, judged, end, whole);
  return findingText(run, judged, finding, valueTexts(run, judged.parameter.series, window));
}
