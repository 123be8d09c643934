import { PARAMETER_NAMES, PARAMETERS, type Parameter } from '../../catalog/parameters.ts';
import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { ratioAtMost } from '../../science/ratio.ts';
import { spreadOverSmallest } from '../../science/within/spread-over-smallest.ts';
import { ABSOLUTE_PHRASES, PERCENT_PHRASES } from './arithmetic-phrases.ts';
import type { Window } from './choose-window.ts';
import { comparedText, medianText, percentText, spreadText, unitOf, valueText } from './figure-texts.ts';
import type { Finding } from './judge.ts';
import { FIELDS, unitRead } from './parameter-reading.ts';
import type { PurgeRun, RunParameter } from './purge-run.ts';
import { shortfallText, sinceText } from './shortfall-text.ts';
import { type Standing, valuesOf } from './standing.ts';

export type JudgedParameter = AssessmentFields['parameters'][number];

/** A parameter of the criteria with how it stands at the end of the purge. */
export interface Judged {
  readonly parameter: RunParameter;
  readonly standing: Standing;
}

function limitUnit(finding: Finding, unit: string): string {
  return finding.rule === 'percent' ? '%' : unit;
}

function phrase(run: PurgeRun, finding: Finding): string {
  if (finding.rule === 'percent') return PERCENT_PHRASES[run.by.percent];
  return finding.rule === 'absolute' ? ABSOLUTE_PHRASES[run.by.absolute] : ABSOLUTE_PHRASES['total-spread'];
}

function belowText(run: PurgeRun, limit: string, unit: string): string {
  const { lowValueStraddle, lowValueEquality } = run.plan.options;
  const subject = lowValueStraddle === 'window' ? 'The mean of the window is' : 'Every reading is';
  return `${subject} ${lowValueEquality === 'low' ? 'not above' : 'below'} ${limit} ${unit}, which counts as stable.`;
}

function findingText(run: PurgeRun, { series }: RunParameter, finding: Finding, unit: string): string {
  if (finding.figure === null) return 'The criteria give no tolerance for values this high; a person decides.';
  const limit = finding.figure.value;
  if (finding.rule === 'below') return belowText(run, limit, unit);
  const compared = comparedText(series, finding);
  if (compared === null) return 'A percentage of a reading of zero or less means nothing, so it cannot pass.';
  const suffix = limitUnit(finding, unit);
  const by = finding.rule === 'sensor-floor' ? ' that the sensor resolves by the plan' : '';
  return `${phrase(run, finding)} is ${compared} ${suffix}, ${finding.met ? 'within' : 'beyond'} ${limit} ${suffix}${by}.`;
}

function wasOverRange(run: PurgeRun, { series }: RunParameter, end: number): boolean {
  const first = run.moments[end]?.firstCounted ?? 0;
  return series.overRange.some((over, index) => over && index >= first && index <= end);
}

function lackText(run: PurgeRun, standing: Standing, end: number, whole: Window): string {
  if (whole.shortfall !== null) return shortfallText(run, end, whole);
  if (standing.stale) return 'It was not read with the latest readings of the window.';
  const { readingsNeeded } = run.plan;
  return `${standing.window.indices.length} of ${readingsNeeded} readings have a value that counts${sinceText(run, end)}.`;
}

function withoutFinding(run: PurgeRun, judged: Judged, end: number, whole: Window) {
  const over = wasOverRange(run, judged.parameter, end);
  const lack = lackText(run, judged.standing, end, whole);
  return over
    ? { status: 'over-range' as const, because: `The meter was over its range. ${lack}` }
    : { status: 'missing' as const, because: lack };
}

function toleranceOf(finding: Finding): NonNullable<JudgedParameter['tolerance']> {
  const { rule, figure } = finding;
  return { rule, ...(figure === null ? {} : { limit: figure.value }), verified: figure?.verified ?? false };
}

function numbers(run: PurgeRun, { parameter, standing }: Judged, finding: Finding) {
  const { series } = parameter;
  const window = valuesOf(parameter, standing.window);
  const compared = comparedText(series, finding);
  const isPercent = finding.rule === 'percent' && finding.compared !== null && finding.limit !== null;
  const over = isPercent ? spreadOverSmallest(window) : null;
  return {
    tolerance: toleranceOf(finding),
    spread: spreadText(series, window),
    ...(compared === null ? {} : { compared }),
    ...(over === null || finding.limit === null
      ? {}
      : {
          spreadOverSmallest: {
            percent: percentText(over, finding.figure?.value ?? '0'),
            within: ratioAtMost(over, finding.limit),
          },
        }),
    ...(run.plan.set.reports === 'median' ? { median: medianText(series, window) } : {}),
  };
}

function statusOf(finding: Finding): JudgedParameter['status'] {
  if (!finding.met) return 'not-stable';
  return finding.rule === 'below' ? 'low-value' : 'stable';
}

/** How a parameter of the criteria stands, with the numbers that were compared and a sentence. */
export function describeParameter(run: PurgeRun, judged: Judged, end: number, whole: Window): JudgedParameter {
  const { parameter, standing } = judged;
  const { finding, window } = standing;
  const unit = unitOf(parameter);
  const counted = standing.stale ? [] : window.indices;
  const common = {
    parameter: parameter.series.parameter,
    required: parameter.required,
    unit,
    readings: counted.map((index) => run.readings[index]?.record.id ?? ''),
    values: counted
      .filter((index) => !Number.isNaN(parameter.series.values[index]))
      .map((index) => valueText(run, parameter, index)),
  };
  if (finding === null) return { ...common, ...withoutFinding(run, judged, end, whole) };
  const because = findingText(run, parameter, finding, unit);
  const sentence = because.charAt(0).toUpperCase() + because.slice(1);
  return { ...common, status: statusOf(finding), ...numbers(run, judged, finding), because: sentence };
}

function otherValues(run: PurgeRun, parameter: Parameter, whole: Window): { id: string; text: string; unit: string }[] {
  return whole.indices.flatMap((index) => {
    const record = run.readings[index]?.record;
    if (record === undefined) return [];
    const unit = unitRead(record.fields, parameter);
    const name = FIELDS[parameter][unit];
    const text = name && record.fields[name];
    const units = parameter === 'turbidity' ? ['NTU', 'FNU'] : parameter === 'temperature' ? ['°C', '°F'] : [];
    return text === undefined ? [] : [{ id: record.id, text, unit: units[unit] ?? PARAMETER_NAMES[parameter].unit }];
  });
}

/** What was read in the window and is no criterion of the set: shown, never judged. */
export function describeOthers(run: PurgeRun, whole: Window): JudgedParameter[] {
  const judged = new Set(run.plan.set.criteria.map((criterion) => criterion.parameter));
  return PARAMETERS.filter((parameter) => !judged.has(parameter)).flatMap((parameter) => {
    const values = otherValues(run, parameter, whole);
    const last = values.at(-1);
    if (last === undefined) return [];
    const same = values.filter(({ unit }) => unit === last.unit);
    return [
      {
        parameter,
        status: 'not-a-criterion' as const,
        required: false,
        unit: last.unit,
        readings: same.map(({ id }) => id),
        values: same.map(({ text }) => text),
        because: 'These criteria do not ask for it.',
      },
    ];
  });
}
