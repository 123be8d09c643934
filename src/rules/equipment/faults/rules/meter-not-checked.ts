import type { SensorUse } from '../../meters/sensor-use.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { type MeterDay, meterDays, parametersText, roundsEvidence, usesEvidence, wellsText } from '../meter-days.ts';

/** Whether nothing vouches for a sensor as it is first read at a visit. */
export function isNotChecked({ around, isOld, parameter }: SensorUse): boolean {
  return parameter !== 'temperature' && (around.start !== 'vouched' || isOld);
}

function why(sensors: readonly SensorUse[]): string {
  const starts = new Set(sensors.map(({ around }) => around.start));
  if (starts.has('failed')) return 'The last check before failed.';
  if (starts.has('none')) return 'No check and no calibration is recorded before.';
  if (starts.has('not-checked-since-calibration')) return 'It was calibrated and not checked since.';
  return starts.has('cannot-tell')
    ? 'The check before cannot be judged.'
    : 'The last check is too old to vouch for it.';
}

function faultOf(facts: EquipmentFacts, { unit, name, day, sensors }: MeterDay): EquipmentFault {
  const isOpen = sensors.some(({ use, isInDoubt }) => use.visit.left === null && !isInDoubt);
  return {
    subjectKind: 'unit',
    subject: unit,
    unit,
    of: day,
    addressee: isOpen ? 'now' : 'tonight',
    isPossible: sensors.every(({ isInDoubt }) => isInDoubt),
    sentence: `${parametersText(sensors)} of ${name} had no valid check when it was first read on ${day} at ${wellsText(facts, sensors)}. ${why(sensors)} Check it in its standards now; what was read is kept.`,
    evidence: [...usesEvidence(facts, sensors), ...roundsEvidence(sensors.map(({ around }) => around.before))],
  };
}

const units = { 'M-1': { type: 'multi-parameter-meter' } } as const;
const calibration = { set: 'florida-field-testing' } as const;
const check = { does: 'check', unit: 'M-1', at: '07:35', reading: '7.02', standard: '7.00' } as const;
const reads = { does: 'reads', unit: 'M-1', well: 'MW-3', at: '09:00', ph: '6.9' } as const;
const close = { ...check, at: '17:00' } as const;

export const meterNotChecked: EquipmentRule = {
  code: 'meter-not-checked',
  title: 'A meter was read that no check vouched for',
  severity: 'caution',
  addressee: 'tonight',
  source:
    'Florida DEP, status and trend networks sampling manual, training of September 2018, section 3: a passing check before and after each field value; how long a check vouches: common practice, no source',
  verified: true,
  evaluate: (facts) => meterDays(facts, isNotChecked).map((day) => faultOf(facts, day)),
  vectors: [
    {
      name: 'no check',
      given: { units, calibration, deeds: [reads] },
      expect: 'raised',
      says: 'pH of M-1 had no valid check when it was first read on 2026-05-04 at MW-3. No check and no calibration',
    },
    { name: 'checked in the morning', given: { units, calibration, deeds: [check, reads, close] }, expect: 'silent' },
    {
      name: 'calibrated and not checked, by a document that asks for it',
      given: { units, calibration, deeds: [{ ...check, act: 'calibrated' }, reads, close] },
      expect: 'raised',
      says: 'calibrated and not checked since',
    },
    {
      name: 'calibrated, by a document that starts from there',
      given: {
        units,
        calibration: { set: 'usgs-field-manual' },
        deeds: [{ ...check, act: 'calibrated' }, reads, close],
      },
      expect: 'silent',
    },
    {
      name: 'the check in the morning failed',
      given: { units, calibration, deeds: [{ ...check, reading: '7.40' }, reads, close] },
      expect: 'raised',
      says: 'The last check before failed',
    },
    {
      name: 'checked the week before',
      given: { units, calibration, deeds: [{ ...check, at: '04-27 07:35' }, reads, close] },
      expect: 'raised',
      says: 'too old',
    },
    {
      name: 'the plan lets a check vouch for a week',
      given: {
        units,
        calibration: { ...calibration, longestH: 168 },
        deeds: [{ ...check, at: '04-29 07:35' }, reads, close],
      },
      expect: 'silent',
    },
    { name: 'the plan names no limits', given: { units, deeds: [reads] }, expect: 'silent' },
    {
      name: 'checked by another phone at that minute, with a clock in doubt: possible',
      given: {
        units,
        calibration,
        deeds: [{ ...check, at: '09:02', client: 'phone-2', doubtMin: 5 }, { ...reads, doubtMin: 0 }, close],
      },
      expect: 'raised',
    },
    {
      name: 'turbidity on the line of a meter that never saw a turbidity standard was read by another',
      given: { units, calibration, deeds: [check, { ...reads, turbidityNtu: '4.1' }, close] },
      expect: 'silent',
    },
    {
      name: 'turbidity with a turbidity meter',
      given: {
        units: { 'M-1': { type: 'turbidity-meter' } },
        calibration,
        deeds: [{ ...reads, ph: undefined, turbidityNtu: '4.1' }],
      },
      expect: 'raised',
      says: 'Turbidity of M-1',
    },
  ],
};
