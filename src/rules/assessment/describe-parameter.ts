import { PARAMETERS, type Parameter } from '../../catalog/parameters.ts';
import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { ratioAtMost } from '../../science/ratio.ts';
import { spreadOverSmallest } from '../../science/within/spread-over-smallest.ts';
import type { Window } from './choose-window.ts';
import { comparedText, medianText, percentText, spreadText, unitOf, valueTexts } from './figure-texts.ts';
import { itemAt } from './item-at.ts';
import type { Finding } from './judge.ts';
import { quantityRead } from './parameter-reading.ts';
import { findingText, type Judged, lackText, wasOverRange } from './parameter-text.ts';
import type { PurgeRun } from './purge-run.ts';
import { valuesOf } from './standing.ts';

export type JudgedParameter = AssessmentFields['parameters'][number];

export function statusOf(finding: Finding): JudgedParameter['status'] {
  if (!finding.met) return 'not-stable';
  return finding.rule === 'below' || finding.rule === 'at-most' ? 'low-value' : 'stable';
}

function toleranceOf({ rule, figure, tolerance }: Finding): NonNullable<JudgedParameter['tolerance']> {
  if (figure === null) return { rule, verified: false };
  const shown = { rule, limit: figure.value, verified: figure.verified };
  return tolerance?.unit ? { ...shown, unit: tolerance.unit } : shown;
}

/** Advice beside a percentage: within it by this, within it by every arithmetic in use. */
function spreadAdvice(finding: Finding, window: readonly number[]): JudgedParameter['spreadOverSmallest'] {
  const { rule, compared, limit, figure } = finding;
  if (rule !== 'percent' || compared === null || limit === null || figure === null) return undefined;
  const ratio = spreadOverSmallest(window);
  return { percent: percentText(ratio, figure.value), within: ratioAtMost(ratio, limit) };
}

function addFinding(shown: JudgedParameter, run: PurgeRun, judged: Judged, finding: Finding): JudgedParameter {
  const { series } = judged.parameter;
  const window = valuesOf(series, judged.standing.window);
  shown.status = statusOf(finding);
  shown.tolerance = toleranceOf(finding);
  shown.spread = spreadText(series, window, shown.values);
  const compared = comparedText(series, finding, shown.values);
  if (compared !== null) shown.compared = compared;
  const advice = spreadAdvice(finding, window);
  if (advice) shown.spreadOverSmallest = advice;
  if (run.plan.set.reports === 'median') shown.median = medianText(series, window, shown.values);
  shown.because = findingText(run, judged, finding, shown.values);
  return shown;
}

/** How a parameter of the criteria stands, with the numbers that were compared and a sentence. */
export function describeParameter(run: PurgeRun, judged: Judged, end: number, whole: Window): JudgedParameter {
  const { parameter, standing } = judged;
  const { finding, window } = standing;
  const shown: JudgedParameter = {
    parameter: parameter.series.parameter,
    status: 'missing',
    required: parameter.required,
    unit: unitOf(parameter, window),
    readings: [],
    values: [],
    because: '',
  };
  if (!standing.stale) {
    const indices = window.indices.filter((index) => !Number.isNaN(parameter.series.values[index]));
    shown.readings = indices.map((index) => itemAt(run.readings, index).record.id);
    shown.values = valueTexts(run, parameter.series, { ...window, indices });
  }
  if (finding !== null) return addFinding(shown, run, judged, finding);
  if (wasOverRange(run, parameter, end)) shown.status = 'over-range';
  shown.because = lackText(run, judged, end, whole);
  return shown;
}

function describeOther(run: PurgeRun, parameter: Parameter, whole: Window): JudgedParameter[] {
  const read = whole.indices.flatMap((index) => {
    const { id, fields } = itemAt(run.readings, index).record;
    const quantity = quantityRead(fields, parameter);
    return quantity === undefined ? [] : [{ id, unit: quantity.unit, text: quantity.of(fields) as string }];
  });
  const unit = read.at(-1)?.unit;
  if (unit === undefined) return [];
  const same = read.filter((one) => one.unit === unit);
  const readings = same.map(({ id }) => id);
  const values = same.map(({ text }) => text);
  const because = 'These criteria do not ask for it.';
  return [{ parameter, status: 'not-a-criterion', required: false, unit, readings, values, because }];
}

/** What was read in the window and is no criterion of the set: shown as entered, never judged. */
export function describeOthers(run: PurgeRun, whole: Window): JudgedParameter[] {
  if (run.parameters.length === PARAMETERS.length) return [];
  const judged = new Set(run.parameters.map(({ series }) => series.parameter));
  return PARAMETERS.filter((parameter) => !judged.has(parameter)).flatMap((parameter) =>
    describeOther(run, parameter, whole),
  );
}
