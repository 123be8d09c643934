import { fieldEvidence } from '../../../flags/evidence.ts';
import { failureText, standingFailure } from '../../failed-check.ts';
import { dayOf } from '../../moment.ts';
import { unitName } from '../../unit-kind.ts';
import type { UnitLine } from '../../unit-line.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { contactEvidence, PRACTICE } from '../fault-parts.ts';

function ofLine({ index }: EquipmentFacts, line: UnitLine): readonly EquipmentFault[] {
  const failed = standingFailure(line.services);
  if (!failed) return [];
  const use = line.contacts.find(({ from }) => from.ms > failed.moment.ms);
  if (!use) return [];
  return [
    {
      subjectKind: 'unit',
      subject: line.id,
      unit: line.id,
      of: failed.record.id,
      sentence: `${failureText(unitName(line.unit, line.id), failed)} and was used on ${dayOf(use.from)}. Take it out of service, or have it checked again.`,
      evidence: [fieldEvidence(failed.record, 'result'), contactEvidence(index, use)],
    },
  ];
}

const units = { 'T-1': { type: 'water-level-tape' } } as const;
const failed = { does: 'service', unit: 'T-1', type: 'length-checked', result: 'fail', at: '05-02 09:00' } as const;
const clean = { does: 'decon', unit: 'T-1', from: '07:00', until: '07:05' } as const;
const used = { does: 'at-well', unit: 'T-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;

export const usedAfterFailedCheck: EquipmentRule = {
  code: 'used-after-failed-check',
  title: 'A unit was used after it failed an inspection or a length check',
  severity: 'caution',
  addressee: 'tonight',
  source: PRACTICE,
  verified: false,
  evaluate: (facts) => [...facts.index.lines.values()].flatMap((line) => ofLine(facts, line)),
  vectors: [
    {
      name: 'a tape two days later',
      given: { units, deeds: [failed, clean, used] },
      expect: 'raised',
      says: 'T-1 failed its length check on 2026-05-02 and was used on 2026-05-04',
    },
    {
      name: 'checked again, and passed',
      given: { units, deeds: [failed, { ...failed, result: 'pass', at: '05-03 09:00' }, clean, used] },
      expect: 'silent',
    },
    {
      name: 'read with its correction',
      given: { units, deeds: [{ ...failed, correctionFt: '-0.02' }, clean, used] },
      expect: 'silent',
    },
    { name: 'not used since', given: { units, deeds: [clean, used, { ...failed, at: '17:00' }] }, expect: 'silent' },
  ],
};
