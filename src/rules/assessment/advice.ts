import { PARAMETER_NAMES, type Parameter } from '../../catalog/parameters.ts';
import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { extent } from '../../science/within/extent.ts';
import type { JudgedParameter } from './describe-parameter.ts';
import { itemAt } from './item-at.ts';
import { type LimitStanding, limitText } from './limits.ts';
import type { Judged } from './parameter-text.ts';
import type { PurgeRun } from './purge-run.ts';
import { isMet, valuesOf } from './standing.ts';

type Advice = AssessmentFields['advice'][number];

/** A rise of water temperature within the last readings that points to sun or warm air. Common practice, no source. */
const WARMING_MILLIONTHS_C = 500_000;
/** Readings looked back upon for a trend. Common practice, no source. */
const TREND_READINGS = 4;
/** So many parameters standing still together are no water. Common practice, no source. */
const STILL_PARAMETERS = 3;

/** The last values of a parameter that count, earliest first. */
function lastValues(run: PurgeRun, { parameter }: Judged): number[] {
  const { values } = parameter.series;
  const first = run.moments.at(-1)?.firstCounted ?? 0;
  const last: number[] = [];
  for (let index = values.length - 1; index >= first && last.length < TREND_READINGS; index -= 1) {
    const value = itemAt(values, index);
    if (!Number.isNaN(value)) last.push(value);
  }
  return last.reverse();
}

function steps(values: readonly number[]): number[] {
  return values.slice(1).map((value, index) => value - itemAt(values, index));
}

function oneWay(all: readonly number[]): boolean {
  return all.length > 0 && (all.every((step) => step > 0) || all.every((step) => step < 0));
}

function zigzag(all: readonly number[]): boolean {
  return all.length >= TREND_READINGS - 1 && all.every((step, at) => at === 0 || step * itemAt(all, at - 1) < 0);
}

function named(judged: readonly Judged[], parameter: Parameter): Judged | undefined {
  return judged.find((one) => one.parameter.series.parameter === parameter);
}

function isUnstable(one: Judged | undefined): boolean {
  return one?.standing.finding?.met === false;
}

function warming(run: PurgeRun, judged: readonly Judged[]): Advice[] {
  const temperature = named(judged, 'temperature');
  if (temperature === undefined) return [];
  const values = lastValues(run, temperature);
  const all = steps(values);
  const rise = (values.at(-1) ?? 0) - (values[0] ?? 0);
  const enough = rise >= WARMING_MILLIONTHS_C * temperature.parameter.series.factor;
  if (all.length < TREND_READINGS - 1 || !all.every((step) => step > 0) || !enough) return [];
  const sentence = 'The temperature keeps rising: shade the flow cell and the tubing, and keep the tubing short.';
  return [{ code: 'warming', parameter: 'temperature', sentence }];
}

function gasSeen(run: PurgeRun, judged: readonly Judged[]): boolean {
  const first = run.moments[Math.min(...judged.map(({ standing }) => standing.window.indices[0] ?? 0))];
  return run.occurrences.some(({ record, atMs }) => {
    const { type } = record.fields;
    return (type === 'air-in-line' || type === 'drive-gas-in-discharge') && atMs >= (first?.atMs ?? 0);
  });
}

function bubbles(run: PurgeRun, judged: readonly Judged[]): Advice[] {
  const suspects = [named(judged, 'dissolved-oxygen'), named(judged, 'turbidity')].filter((one) => one !== undefined);
  const unstable = suspects.filter(isUnstable);
  const jumping = unstable.filter((one) => zigzag(steps(lastValues(run, one))));
  const hit = jumping[0] ?? (gasSeen(run, judged) ? unstable[0] : undefined);
  if (hit === undefined) return [];
  const { parameter } = hit.parameter.series;
  const sentence = `${PARAMETER_NAMES[parameter].name} jumps up and down: look for bubbles in the flow cell and the line.`;
  return [{ code: 'bubbles', parameter, sentence }];
}

function standsStill(judged: readonly Judged[]): Advice[] {
  const full = judged.filter(({ standing }) => standing.finding !== null);
  const still = full.filter(({ parameter, standing }) => {
    const { smallest, largest } = extent(valuesOf(parameter.series, standing.window));
    return smallest === largest;
  });
  if (still.length < STILL_PARAMETERS || still.length < full.length) return [];
  const sentence = 'No figure changed in any digit: see that the display of the meter is not paused.';
  return [{ code: 'display-stands-still', sentence }];
}

function drifting(one: Judged): Advice[] {
  if (!isUnstable(one)) return [];
  const { parameter } = one.parameter.series;
  const all = steps(valuesOf(one.parameter.series, one.standing.window));
  if (!oneWay(all)) return [];
  const direction = itemAt(all, 0) > 0 ? 'rising' : 'falling';
  const { name } = PARAMETER_NAMES[parameter];
  const growing = all.every((step, at) => at === 0 || Math.abs(step) > Math.abs(itemAt(all, at - 1)));
  if (growing) {
    const sentence = `${name} is still ${direction}, by more at each step: it is moving away from a steady state.`;
    return [{ code: 'steps-growing', parameter, sentence }];
  }
  return [{ code: 'still-drifting', parameter, sentence: `${name} is still ${direction}.` }];
}

function spread(described: readonly JudgedParameter[]): Advice[] {
  return described.flatMap(({ parameter, status, spreadOverSmallest, tolerance }) => {
    if (status !== 'stable' || spreadOverSmallest === undefined || spreadOverSmallest?.within !== false) return [];
    const { name } = PARAMETER_NAMES[parameter];
    const sentence = `${name} passes, but its spread over the smallest value is ${spreadOverSmallest.percent} %, beyond ${tolerance?.limit} %: another arithmetic in use might say otherwise.`;
    return [{ code: 'spread-over-smallest' as const, parameter, sentence }];
  });
}

function minimumPurge({ minimumPurge: condition }: AssessmentFields['conditions']): Advice[] {
  if (condition.required || condition.status !== 'not-met') return [];
  return [{ code: 'minimum-purge', sentence: `Keep purging before sampling: ${condition.because}` }];
}

/** Asked until a call records what the crew chose. */
function limit(limits: readonly LimitStanding[], stable: boolean): Advice[] {
  const open = limits.find(({ status, call }) => status === 'reached' && call === undefined);
  if (open === undefined || stable) return [];
  const sentence = `Not stable after ${limitText(open)}: keep purging, or stop and take no sample, or stop and sample, and record which.`;
  return [{ code: 'time-limit', sentence }];
}

function interrupted(run: PurgeRun, stable: boolean): Advice[] {
  const interruption = run.moments.at(-1)?.interruption ?? null;
  if (stable || interruption === null) return [];
  return [{ code: 'interrupted', sentence: `Readings count anew since ${interruption.what}.` }];
}

export interface AdviceInput {
  readonly judged: readonly Judged[];
  readonly described: readonly JudgedParameter[];
  readonly conditions: AssessmentFields['conditions'];
  readonly limits: readonly LimitStanding[];
  readonly stable: boolean;
}

/** What probably keeps the purge from being stable, and what to look at before believing that it is. Never a decision. */
export function adviceFor(run: PurgeRun, given: AdviceInput): Advice[] {
  const { judged, described, conditions, limits, stable } = given;
  const causes = judged.every(({ standing }) => isMet(standing))
    ? []
    : [...warming(run, judged), ...bubbles(run, judged), ...judged.flatMap(drifting)];
  return [
    ...causes,
    ...standsStill(judged),
    ...spread(described),
    ...minimumPurge(conditions),
    ...limit(limits, stable),
    ...interrupted(run, stable),
  ];
}
