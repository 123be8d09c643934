import { DRIFT_LIMITS } from '../../catalog/calibration/drift-limits.ts';
import { compareText, differenceText } from '../../science/units/decimal-arithmetic.ts';
import { checkName } from './assess-check.ts';
import { parameterOf } from './check.ts';
import type { AssessedCheck, Round } from './rounds.ts';

interface Measured {
  readonly one: AssessedCheck;
  readonly standard: string;
  readonly deviation: string;
}

function measured(round: Round): readonly Measured[] {
  return round.checks.flatMap((one) => {
    const { standardValue: standard, deviation } = one.result;
    const isChecked = one.check.act === 'checked' && standard !== null && deviation !== null;
    return isChecked ? [{ one, standard, deviation }] : [];
  });
}

/**
 * How far a meter moved between two rounds in standards that both used, where that is more than a protocol allows: it is
 * time to calibrate, though each check by itself passes. Two standards count as one where their values lie within 0.1 of
 * each other, for a buffer changes with temperature.
 */
export function driftCautions(earlier: Round, later: Round): readonly string[] {
  const before = measured(earlier);
  return measured(later).flatMap(({ one, standard, deviation }) => {
    const limit = DRIFT_LIMITS.find(({ parameter }) => parameter === parameterOf(one.check));
    const same = before.find((old) => compareText(differenceText(old.standard, standard).replace('-', ''), '0.1') <= 0);
    if (limit === undefined || same === undefined) return [];
    const drift = differenceText(deviation, same.deviation).replace('-', '');
    if (compareText(drift, limit.most.value) <= 0) return [];
    return [
      `${checkName(one.check.parameter)} moved by ${drift} between two checks in one standard; more than ${limit.most.value} asks for a calibration (${limit.source}).`,
    ];
  });
}
