import { isSameAnalyte } from '../../../decon/analyte-key.ts';
import { shownResult } from '../../../decon/analyte-result.ts';
import type { ResultRecord } from '../../equipment-records.ts';
import { type BlankTrail, samplesBehindBlank } from '../../samples-behind-blank.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';

function shown({ fields }: ResultRecord) {
  return fields.value ? { shows: shownResult(fields.value, fields.unit) } : {};
}

function faultOf({ index }: EquipmentFacts, trail: BlankTrail): EquipmentFault {
  const found = (index.resultsOfBlank.get(trail.blank) ?? []).filter(
    ({ fields }) => fields.condition === 'detected' && isSameAnalyte(fields, trail),
  );
  const asked = trail.samples.filter(({ standing }) => standing === 'in-question');
  return {
    subjectKind: 'blank',
    subject: trail.blank,
    unit: trail.unit,
    of: trail.casNumber ?? trail.analyte,
    sentence: trail.sentence,
    evidence: [
      ...found.map((result) => ({ record: result.id, field: 'value', ...shown(result) })),
      ...asked.map(({ sample, number }) => ({ record: sample, shows: number })),
    ],
  };
}

const units = { 'P-1': {} };
const deeds = [
  { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' },
  { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00', suites: ['VOC'] },
  { does: 'decon', unit: 'P-1', from: '09:10', until: '09:40' },
] as const;
const rinsate = { does: 'rinsate', unit: 'P-1', at: '09:50' } as const;

export const equipmentBlankFailed: EquipmentRule = {
  code: 'equipment-blank-failed',
  title: 'Something was found in an equipment blank',
  severity: 'caution',
  addressee: 'office',
  source:
    'US Department of Defense, Data Validation Guidelines, Modules 1 to 4, revised table A, 9 Feb 2022, read in a copy',
  verified: true,
  evaluate: (facts) =>
    [...facts.index.blanksOfUnit.values()]
      .flat()
      .flatMap(({ record }) => samplesBehindBlank(facts.index, record.id, facts.judgeOf(record)))
      .map((trail) => faultOf(facts, trail)),
  vectors: [
    {
      name: 'found',
      given: { units, deeds: [...deeds, { ...rinsate, found: '0.8' }] },
      expect: 'raised',
      says: 'tetrachloroethene was found in EB-4 through P-1: of 1 samples',
    },
    { name: 'nothing found', given: { units, deeds: [...deeds, { ...rinsate, found: null }] }, expect: 'silent' },
    { name: 'no result yet', given: { units, deeds: [...deeds, rinsate] }, expect: 'silent' },
  ],
};
