import type { SensorUse } from '../../meters/sensor-use.ts';
import { dayOf } from '../../moment.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { type MeterDay, meterDays, parametersText, roundsEvidence, usesEvidence, wellsText } from '../meter-days.ts';
import { isNotChecked } from './meter-not-checked.ts';

/** A meter that nobody checked before is told of once, for that. */
function isOpenBehind({ isDayClosed }: EquipmentFacts, sensor: SensorUse): boolean {
  const { parameter, around, use } = sensor;
  if (parameter === 'temperature' || isNotChecked(sensor)) return false;
  if (around.end === 'pending') return isDayClosed(use.meter, dayOf(use.first));
  return around.end === 'calibrated-again' || around.end === 'cannot-tell';
}

function why(sensors: readonly SensorUse[]): string {
  const ends = new Set(sensors.map(({ around }) => around.end));
  if (ends.has('calibrated-again'))
    return 'It was calibrated again without a check before: nothing shows that it was still right.';
  if (ends.has('cannot-tell')) return 'The check after cannot be judged: write what is missing.';
  return 'Check it in its standards before it is calibrated again.';
}

function faultOf(facts: EquipmentFacts, { unit, name, day, sensors }: MeterDay): EquipmentFault {
  return {
    subjectKind: 'unit',
    subject: unit,
    unit,
    of: day,
    isPossible: sensors.every(({ isInDoubt }) => isInDoubt),
    sentence: `No check of ${name} closes what was read on ${day} at ${wellsText(facts, sensors)}: ${parametersText(sensors)}. ${why(sensors)}`,
    evidence: [
      ...usesEvidence(facts, sensors),
      ...roundsEvidence(sensors.flatMap(({ around }) => [around.before, around.after])),
    ],
  };
}

const units = { 'M-1': { type: 'multi-parameter-meter' } } as const;
const calibration = { set: 'florida-field-testing' } as const;
const closed = ['2026-05-04'];
const check = { does: 'check', unit: 'M-1', at: '07:35', reading: '7.02', standard: '7.00' } as const;
const reads = { does: 'reads', unit: 'M-1', well: 'MW-3', at: '09:00', until: '10:00', ph: '7.0' } as const;

export const meterCheckAfterMissing: EquipmentRule = {
  code: 'meter-check-after-missing',
  title: 'No check of a meter after the readings of a day',
  severity: 'caution',
  addressee: 'tonight',
  source:
    'Florida DEP, status and trend networks sampling manual, training of September 2018, section 3: a passing check before and after each field value',
  verified: true,
  evaluate: (facts) => meterDays(facts, (sensor) => isOpenBehind(facts, sensor)).map((day) => faultOf(facts, day)),
  vectors: [
    {
      name: 'the day is over',
      given: { units, calibration, closed, deeds: [check, reads] },
      expect: 'raised',
      says: 'No check of M-1 closes what was read on 2026-05-04 at MW-3: pH. Check it in its standards',
    },
    { name: 'the day goes on', given: { units, calibration, deeds: [check, reads] }, expect: 'silent' },
    {
      name: 'checked in the evening',
      given: { units, calibration, closed, deeds: [check, reads, { ...check, at: '17:00' }] },
      expect: 'silent',
    },
    {
      name: 'checked the next morning, before it was calibrated',
      given: { units, calibration, closed, deeds: [check, reads, { ...check, at: '05-05 07:10' }] },
      expect: 'silent',
    },
    {
      name: 'calibrated the next morning without a check',
      given: { units, calibration, closed, deeds: [check, reads, { ...check, act: 'calibrated', at: '05-05 07:10' }] },
      expect: 'raised',
      says: 'calibrated again without a check before',
    },
    { name: 'the plan names no limits', given: { units, closed, deeds: [check, reads] }, expect: 'silent' },
  ],
};
