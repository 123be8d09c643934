import type { CheckLimitSet } from '../../catalog/calibration/check-limit-set.ts';
import { CHECK_LIMIT_SETS } from '../../catalog/calibration/check-limit-sets.ts';
import type { Parameter } from '../../catalog/parameters.ts';
import { type CalibrationPlan, LONGEST_H } from '../../protocol/calibration-plan.ts';
import type { CheckOptions } from './deviation.ts';

/** What the plan of an event asks of its meters, with the defaults filled in. */
export interface CalibrationAsked {
  readonly set: CheckLimitSet;
  readonly options: CheckOptions;
  readonly longestH: number;
}

export function calibrationAsked(plan: CalibrationPlan): CalibrationAsked {
  const { set, basis, percentOf, strictness, longestH } = plan;
  return {
    set: CHECK_LIMIT_SETS[set],
    options: {
      basis: basis ?? undefined,
      percentOf: percentOf ?? undefined,
      strictness: strictness ?? undefined,
    },
    longestH: longestH ?? LONGEST_H,
  };
}

interface Sensors {
  /** Of the meter. */
  readonly unitType: string | undefined;
  /** For which a check or a calibration of the meter is recorded, at whatever time. */
  readonly everChecked: ReadonlySet<Parameter>;
}

/**
 * Of what was read, the parameters whose checks are asked for. A line of a purge log names one meter: turbidity on it was
 * read by another instrument where nobody ever put this one into a turbidity standard. Temperature is checked once a year,
 * not by the day.
 *
 * Source for temperature: US EPA Region 1, EQASOP-FieldCalibrat (from memory); for turbidity common practice, no source.
 */
export function parametersAsked(
  { set }: CalibrationAsked,
  read: readonly Parameter[],
  { unitType, everChecked }: Sensors,
): readonly Parameter[] {
  const limited = new Set(set.limits.map((limit) => limit.parameter));
  return read.filter((parameter) => {
    if (!limited.has(parameter)) return false;
    if (unitType === 'turbidity-meter') return parameter === 'turbidity';
    return parameter === 'turbidity' || parameter === 'temperature' ? everChecked.has(parameter) : true;
  });
}
