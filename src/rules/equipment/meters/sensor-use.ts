import type { Parameter } from '../../../catalog/parameters.ts';
import { type Around, aroundReading } from '../../calibration/around-reading.ts';
import { outsideStandards } from '../../calibration/bracket.ts';
import { type CalibrationAsked, parametersAsked } from '../../calibration/calibration-asked.ts';
import { parameterOf } from '../../calibration/check.ts';
import { type Round, roundsOf } from '../../calibration/rounds.ts';
import type { UnitRecord } from '../equipment-records.ts';
import { doubtBetween } from '../moment.ts';
import type { MeterCheck } from './meter-check.ts';
import type { MeterUse } from './meter-use.ts';

/** One sensor of a meter at one visit, and what the checks around its first reading there say. */
export interface SensorUse {
  readonly use: MeterUse;
  readonly parameter: Parameter;
  readonly around: Around;
  /** The check before it is older than the plan lets a check vouch. */
  readonly isOld: boolean;
  /** Why its value is not between the standards that passed; undefined where it is, or where nobody asks. */
  readonly outside: string | undefined;
  /** The clocks leave open on which side of the reading a check was. */
  readonly isInDoubt: boolean;
}

const MS_PER_H = 3_600_000;

interface MeterRecords {
  readonly unit: UnitRecord | undefined;
  readonly uses: readonly MeterUse[];
  readonly checks: readonly MeterCheck[];
}

type RoundsOf = (asked: CalibrationAsked, parameter: Parameter) => readonly Round[];

/** Rounds of each sensor, made once for each set of limits. */
function roundsOnce(meter: string, checks: readonly MeterCheck[]): RoundsOf {
  const plain = checks.map(({ check }) => check);
  const known = new Map<string, readonly Round[]>();
  return ({ set, options }, parameter) => {
    const key = JSON.stringify([set.id, options, parameter]);
    const rounds = known.get(key) ?? roundsOf(set, plain, { meter, parameter }, options);
    known.set(key, rounds);
    return rounds;
  };
}

function isInDoubt({ first }: MeterUse, checks: readonly MeterCheck[], parameter: Parameter): boolean {
  return checks.some(({ moment, check }) => {
    const doubtMs = parameterOf(check) === parameter ? doubtBetween(moment, first) : 0;
    return doubtMs > 0 && Math.abs(moment.ms - first.ms) <= doubtMs;
  });
}

/** Every sensor of a meter at every visit for which the plan of its event asks for checks, earliest first. */
export function sensorUses(
  { unit, uses, checks }: MeterRecords,
  askedAt: (visit: string) => CalibrationAsked | null,
): readonly SensorUse[] {
  const everChecked = new Set(checks.map(({ check }) => parameterOf(check)));
  const meter = uses[0]?.meter ?? '';
  const rounds = roundsOnce(meter, checks);
  return uses.flatMap((use) => {
    const asked = askedAt(use.visit.id);
    if (asked === null) return [];
    const read = use.values.map(({ parameter }) => parameter);
    const parameters = parametersAsked(asked, read, { unitType: unit?.fields.type, everChecked });
    return parameters.map((parameter) => {
      const around = aroundReading(rounds(asked, parameter), use.first.ms, asked);
      const value = use.values.find((one) => one.parameter === parameter);
      return {
        use,
        parameter,
        around,
        isOld: around.before !== undefined && use.first.ms - around.before.startMs > asked.longestH * MS_PER_H,
        outside: value && outsideStandards(value, around, asked.set),
        isInDoubt: isInDoubt(use, checks, parameter),
      };
    });
  });
}
