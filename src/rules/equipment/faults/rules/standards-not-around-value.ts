import { wellName } from '../../equipment-index.ts';
import type { SensorUse } from '../../meters/sensor-use.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { type MeterDay, meterDays, roundsEvidence, usesEvidence, visitsOf } from '../meter-days.ts';
import { isNotChecked } from './meter-not-checked.ts';

function isOutside(sensor: SensorUse): boolean {
  return sensor.outside !== undefined && sensor.around.end === 'passed' && !isNotChecked(sensor);
}

/** What is longest goes to the evidence. */
const SHOWN = 3;

function faultOf(facts: EquipmentFacts, { unit, name, day, sensors }: MeterDay): EquipmentFault {
  const lines = sensors
    .slice(0, SHOWN)
    .map(({ use, outside }) => `${wellName(facts.index, use.visit.well)}: ${outside}`);
  const visits = visitsOf(sensors).length;
  const more = sensors.length > SHOWN ? ` So it is at ${visits} visits.` : '';
  return {
    subjectKind: 'unit',
    subject: unit,
    unit,
    of: day,
    isPossible: sensors.every(({ isInDoubt }) => isInDoubt),
    sentence: `The standards of ${name} on ${day} do not lie on both sides of what was read first. ${lines.join(' ')}${more} Take a standard beyond it along tomorrow.`,
    evidence: [
      ...usesEvidence(facts, sensors),
      ...roundsEvidence(sensors.flatMap(({ around }) => [around.before, around.after])),
    ],
  };
}

const units = { 'M-1': { type: 'multi-parameter-meter' } } as const;
const calibration = { set: 'florida-field-testing' } as const;
const at100 = {
  does: 'check',
  unit: 'M-1',
  parameter: 'specific-conductance',
  at: '07:35',
  reading: '102',
  standard: '100',
} as const;
const at1000 = { ...at100, at: '07:40', reading: '1003', standard: '1000' } as const;
const reads = { does: 'reads', unit: 'M-1', well: 'MW-3', at: '10:00', until: '11:00', conductance: '1500' } as const;
const at5000 = { ...at100, at: '15:30', reading: '4900', standard: '5000' } as const;

export const standardsNotAroundValue: EquipmentRule = {
  code: 'standards-not-around-value',
  title: 'The standards of a meter do not lie on both sides of what was read',
  severity: 'question',
  addressee: 'tonight',
  source:
    'Florida DEP, status and trend networks sampling manual, training of September 2018, section 3: the standards span what is observed',
  verified: true,
  evaluate: (facts) => meterDays(facts, isOutside).map((day) => faultOf(facts, day)),
  vectors: [
    {
      name: 'the printed example: 1500 between 100 and 5000',
      given: { units, calibration, deeds: [at100, at1000, reads, at5000] },
      expect: 'silent',
    },
    {
      name: 'closed at 1000 instead of 5000',
      given: { units, calibration, deeds: [at100, at1000, reads, { ...at1000, at: '15:30' }] },
      expect: 'raised',
      says: 'MW-3: Specific conductance 1500 µS/cm is outside the standards that passed, 100 to 1000.',
    },
    {
      name: 'by a document that is not known to ask for it',
      given: {
        units,
        calibration: { set: 'usgs-field-manual' },
        deeds: [at100, at1000, reads, { ...at1000, at: '15:30' }],
      },
      expect: 'silent',
    },
  ],
};
