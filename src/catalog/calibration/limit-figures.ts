import type { Figure } from '../criteria-set.ts';
import type { CheckLimit, CheckTolerance, StandardValueBasis } from './check-limit-set.ts';

/** A buffer, a saturated water and a redox solution change with temperature: only their value there tells the meter. */
export const AT_TEMPERATURE: StandardValueBasis = {
  id: 'at-temperature',
  why: 'the standard itself changes with temperature, and its label holds at 25 °C (our reading of the document)',
};

/** A meter that shows specific conductance has brought the standard to 25 °C already; turbidity does not change. */
export const NOMINAL: StandardValueBasis = {
  id: 'nominal',
  why: 'the meter shows the value at the temperature of the label, or the standard does not change (our reading of the document)',
};

export function absoluteLimit(
  parameter: CheckLimit['parameter'],
  within: Figure,
  basis: StandardValueBasis,
): CheckLimit {
  return { parameter, tolerance: { rule: 'absolute', within }, basis };
}

export function percentLimit(parameter: CheckLimit['parameter'], within: Figure): CheckLimit {
  return { parameter, tolerance: { rule: 'percent', within }, basis: NOMINAL };
}

/** A document that says "0.1 to 0.2": the smaller figure counts unless the plan says otherwise. */
export function rangeOfLimits(stricter: Figure, wider: Figure): CheckTolerance {
  const when = 'the document names both figures';
  return { rule: 'absolute', within: wider, stricter: { figure: stricter, when, usual: 'stricter' } };
}
