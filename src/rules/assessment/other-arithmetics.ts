import { PARAMETERS } from '../../catalog/parameters.ts';
import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { ABSOLUTE_ARITHMETICS, PERCENT_ARITHMETICS } from '../../science/arithmetic-names.ts';
import type { Judged } from './describe-parameter.ts';
import { type Arithmetics, judgeWindow } from './judge.ts';
import type { PurgeRun } from './purge-run.ts';
import { isMet, valuesOf } from './standing.ts';

type Other = AssessmentFields['otherArithmetics'][number];

function metBy({ parameter, standing }: Judged, by: Arithmetics): boolean {
  return standing.finding !== null && judgeWindow(parameter.judge, valuesOf(parameter, standing.window), by).met;
}

function other(
  judged: readonly Judged[],
  conditionsMet: boolean,
  by: Arithmetics,
): Pick<Other, 'stable' | 'parameters'> {
  const met = new Map(judged.map((one) => [one.parameter.series.parameter, metBy(one, by)]));
  const changed = judged.filter((one) => met.get(one.parameter.series.parameter) !== isMet(one.standing));
  const names = new Set(changed.map((one) => one.parameter.series.parameter));
  const allMet = judged.every((one) => !one.parameter.required || met.get(one.parameter.series.parameter));
  return { stable: conditionsMet && allMet, parameters: PARAMETERS.filter((parameter) => names.has(parameter)) };
}

/**
 * The other arithmetics in use that would have decided at least one parameter otherwise, over the same windows: a
 * reader who knows another one sees at once whether it matters.
 */
export function otherArithmetics(run: PurgeRun, judged: readonly Judged[], conditionsMet: boolean): Other[] {
  if (judged.every(({ standing }) => standing.finding === null)) return [];
  const percents = PERCENT_ARITHMETICS.filter((percent) => percent !== run.by.percent).map((percent): Other => {
    return { type: 'percent', arithmetic: percent, ...other(judged, conditionsMet, { ...run.by, percent }) };
  });
  const absolutes = ABSOLUTE_ARITHMETICS.filter((absolute) => absolute !== run.by.absolute).map((absolute): Other => {
    return { type: 'absolute', arithmetic: absolute, ...other(judged, conditionsMet, { ...run.by, absolute }) };
  });
  return [...percents, ...absolutes].filter(({ parameters }) => parameters.length > 0);
}
