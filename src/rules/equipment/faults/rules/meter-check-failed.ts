import { shownTime } from '../../../calibration/around-reading.ts';
import { checkName } from '../../../calibration/assess-check.ts';
import type { Round } from '../../../calibration/rounds.ts';
import { countText, listText } from '../../../flags/list-text.ts';
import type { SensorUse } from '../../meters/sensor-use.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import {
  type MeterDay,
  meterDays,
  parametersText,
  roundsEvidence,
  usesEvidence,
  visitsOf,
  wellsText,
} from '../meter-days.ts';

function failedRound({ around }: SensorUse): Round | undefined {
  return around.end === 'failed' ? around.after : undefined;
}

/** How far off it was in each standard that it missed. */
function drifts(round: Round): readonly string[] {
  return round.checks
    .filter(({ result }) => result.outcome === 'fail')
    .map(
      ({ check, result }) => `${checkName(check.parameter)} off by ${result.deviation} (allowed: ${result.allowed})`,
    );
}

function since(sensors: readonly SensorUse[]): string {
  const passes = sensors.flatMap(({ around }) => around.lastPass ?? []);
  const first = passes.toSorted((a, b) => a.startMs - b.startMs)[0];
  return first ? `, back to ${shownTime(first)}, when it last passed` : '';
}

function faultOf(facts: EquipmentFacts, { unit, name, day, sensors }: MeterDay): EquipmentFault {
  const rounds = [...new Set(sensors.flatMap((sensor) => failedRound(sensor) ?? []))];
  const visits = countText(visitsOf(sensors).length, 'visit');
  return {
    subjectKind: 'unit',
    subject: unit,
    unit,
    of: day,
    isPossible: sensors.every(({ isInDoubt }) => isInDoubt),
    sentence: `${name} failed its check on ${day}: ${listText(rounds.flatMap(drifts))}. In question: ${parametersText(sensors)} of ${visits} (${wellsText(facts, sensors)})${since(sensors)}. Try a fresh portion of the standard, else calibrate and check again; the office reviews what was read.`,
    evidence: [
      ...roundsEvidence(rounds),
      ...roundsEvidence(sensors.map(({ around }) => around.lastPass)),
      ...usesEvidence(facts, sensors),
    ],
  };
}

const units = { 'M-1': { type: 'multi-parameter-meter' } } as const;
const calibration = { set: 'florida-field-testing' } as const;
const check = { does: 'check', unit: 'M-1', at: '07:35', reading: '7.02', standard: '7.00' } as const;
const reads = { does: 'reads', unit: 'M-1', well: 'MW-3', at: '09:00', until: '10:00', ph: '7.0' } as const;
const rinse = { does: 'decon', unit: 'M-1', from: '10:10', until: '10:12', protocol: 'meter-rinse' } as const;
const failed = { ...check, at: '17:00', reading: '7.35' } as const;

export const meterCheckFailed: EquipmentRule = {
  code: 'meter-check-failed',
  title: 'A meter failed its check after it was read',
  severity: 'caution',
  addressee: 'tonight',
  source:
    'The limits that the plan of the event names; that readings back to the last pass are in question: Florida DEP, training of September 2018, section 3',
  verified: true,
  evaluate: (facts) =>
    meterDays(
      facts,
      (sensor) => failedRound(sensor) !== undefined,
      (sensor) => failedRound(sensor)?.at.slice(0, 10) ?? '',
    ).map((day) => faultOf(facts, day)),
  vectors: [
    {
      name: 'off by 0.35 in the evening, two visits in question',
      given: {
        units,
        calibration,
        deeds: [check, reads, rinse, { ...reads, well: 'MW-5', at: '11:00', until: '12:00' }, failed],
      },
      expect: 'raised',
      says: 'pH off by 0.35 (allowed: within 0.2). In question: pH of 2 visits (MW-3 and MW-5), back to 2026-05-04 07:35',
    },
    {
      name: 'what was read before the last pass is not in question',
      given: {
        units,
        calibration,
        deeds: [check, reads, rinse, { ...check, at: '10:30' }, { ...reads, well: 'MW-5', at: '11:00' }, failed],
      },
      expect: 'raised',
      says: 'In question: pH of 1 visit (MW-5), back to 2026-05-04 10:30',
    },
    {
      name: 'a fresh portion of the standard passed',
      given: { units, calibration, deeds: [check, reads, failed, { ...check, at: '17:05' }] },
      expect: 'silent',
    },
    {
      name: 'it passed',
      given: { units, calibration, deeds: [check, reads, { ...check, at: '17:00' }] },
      expect: 'silent',
    },
    {
      name: 'it failed and was calibrated before anything was read',
      given: {
        units,
        calibration: { set: 'usgs-field-manual' },
        deeds: [
          { ...check, at: '07:00', reading: '7.35' },
          { ...check, act: 'calibrated', at: '07:10', reading: '7.00' },
          reads,
          { ...check, at: '17:00' },
        ],
      },
      expect: 'silent',
    },
  ],
};
