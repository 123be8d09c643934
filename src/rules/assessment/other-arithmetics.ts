import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { ABSOLUTE_ARITHMETICS, PERCENT_ARITHMETICS } from '../../science/arithmetic-names.ts';
import { type Arithmetics, judgeWindow } from './judge.ts';
import type { Judged } from './parameter-text.ts';
import type { PurgeRun } from './purge-run.ts';
import { isMet, valuesOf } from './standing.ts';

type Other = AssessmentFields['otherArithmetics'][number];

/** A parameter that another arithmetic could decide otherwise. */
interface Open {
  readonly judged: Judged;
  readonly met: boolean;
}

function hasRule({ parameter, beside }: Judged, rule: 'percent' | 'absolute'): boolean {
  return parameter.judge.rules[rule] || (beside !== null && hasRule(beside, rule));
}

function isMetBy({ parameter, standing, beside }: Judged, by: Arithmetics): boolean {
  const judged = standing.finding !== null;
  if (judged && judgeWindow(parameter.judge, valuesOf(parameter.series, standing.window), by).met) return true;
  return beside !== null && isMetBy(beside, by);
}

/** Only a comparison depends on the arithmetic: neither a low value, nor a sensor floor, nor a missing reading does. */
function openTo(all: readonly Judged[], rule: 'percent' | 'absolute'): Open[] {
  const open: Open[] = [];
  for (const judged of all) {
    const by = judged.standing.finding?.rule;
    if ((by !== 'percent' && by !== 'absolute') || !hasRule(judged, rule)) continue;
    open.push({ judged, met: isMet(judged.standing) });
  }
  return open;
}

/** Whether a parameter that the arithmetic does not bear on keeps the purge from being stable. */
function isBlockedOutside(all: readonly Judged[], open: readonly Open[]): boolean {
  return all.some((one) => {
    const blocks = one.parameter.required && !isMet(one.standing);
    return blocks && !open.some(({ judged }) => judged === one);
  });
}

function decide(open: readonly Open[], by: Arithmetics, blockedAnyway: boolean): Pick<Other, 'stable' | 'parameters'> {
  const parameters: Other['parameters'] = [];
  let stable = !blockedAnyway;
  for (const { judged, met } of open) {
    const { required, series } = judged.parameter;
    const metByIt = isMetBy(judged, by);
    if (metByIt !== met) parameters.push(series.parameter);
    if (required && !metByIt) stable = false;
  }
  return { stable, parameters };
}

/**
 * The other arithmetics in use that would have decided at least one parameter otherwise, over the same windows: a
 * reader who knows another one sees at once whether it matters.
 */
export function otherArithmetics(run: PurgeRun, all: readonly Judged[], conditionsMet: boolean): Other[] {
  const others: Other[] = [];
  const percent = openTo(all, 'percent');
  const absolute = openTo(all, 'absolute');
  const percentBlocked = !conditionsMet || isBlockedOutside(all, percent);
  const absoluteBlocked = !conditionsMet || isBlockedOutside(all, absolute);
  for (const arithmetic of percent.length > 0 ? PERCENT_ARITHMETICS : []) {
    const decided = decide(percent, { percent: arithmetic, absolute: run.by.absolute }, percentBlocked);
    if (decided.parameters.length > 0) others.push({ type: 'percent', arithmetic, ...decided });
  }
  for (const arithmetic of absolute.length > 0 ? ABSOLUTE_ARITHMETICS : []) {
    const decided = decide(absolute, { percent: run.by.percent, absolute: arithmetic }, absoluteBlocked);
    if (decided.parameters.length > 0) others.push({ type: 'absolute', arithmetic, ...decided });
  }
  return others;
}
