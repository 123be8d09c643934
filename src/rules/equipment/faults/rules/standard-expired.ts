import { checkName } from '../../../calibration/assess-check.ts';
import { parameterOf } from '../../../calibration/check.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { listText } from '../../../flags/list-text.ts';
import { byKey } from '../../by-key.ts';
import type { MeterCheck } from '../../meters/meter-check.ts';
import { dayOf } from '../../moment.ts';
import { unitName } from '../../unit-kind.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';

function isExpired({ record, moment }: MeterCheck): boolean {
  const { standardExpires } = record.fields;
  return Boolean(standardExpires && standardExpires < dayOf(moment));
}

/** A later check on that day in a standard that was in date makes good for it. */
function isMadeGood(one: MeterCheck, ofDay: readonly MeterCheck[]): boolean {
  return ofDay.some(
    (other) =>
      other.moment.ms > one.moment.ms &&
      other.check.act === 'checked' &&
      parameterOf(other.check) === parameterOf(one.check) &&
      !isExpired(other),
  );
}

function standardText({ record, check }: MeterCheck): string {
  const { standardLot, standardExpires } = record.fields;
  const lot = standardLot ? ` of lot ${standardLot}` : '';
  return `that for ${checkName(check.parameter)}${lot} on ${standardExpires}`;
}

function ofUnit({ index }: EquipmentFacts, unit: string, checks: readonly MeterCheck[]): readonly EquipmentFault[] {
  return [...byKey(checks, ({ moment }) => dayOf(moment))].flatMap(([day, ofDay]) => {
    const expired = ofDay.filter((one) => isExpired(one) && !isMadeGood(one, ofDay));
    if (expired.length === 0) return [];
    const texts = [...new Set(expired.map(standardText))].toSorted();
    return [
      {
        subjectKind: 'unit',
        subject: unit,
        unit,
        of: day,
        sentence: `Standards in which ${unitName(index.units.get(unit), unit)} was put on ${day} were past their date: ${listText(texts)}. Check it in one that is in date.`,
        evidence: expired.map(({ record }) => fieldEvidence(record, 'standardExpires')),
      },
    ];
  });
}

const units = { 'M-1': { type: 'multi-parameter-meter' } } as const;
const check = { does: 'check', unit: 'M-1', at: '07:35', reading: '7.02', standard: '7.00' } as const;

export const standardExpired: EquipmentRule = {
  code: 'standard-expired',
  title: 'A meter was checked in a standard that was past its date',
  severity: 'question',
  addressee: 'tonight',
  source: 'Common practice, no source: standards are used until the date on their bottle',
  verified: false,
  evaluate: (facts) => [...facts.index.checksOfUnit].flatMap(([unit, checks]) => ofUnit(facts, unit, checks)),
  vectors: [
    {
      name: 'four days past',
      given: { units, deeds: [{ ...check, expires: '2026-04-30', lot: 'B-7' }] },
      expect: 'raised',
      says: 'that for pH of lot B-7 on 2026-04-30',
    },
    { name: 'on its last day', given: { units, deeds: [{ ...check, expires: '2026-05-04' }] }, expect: 'silent' },
    { name: 'no date is written down', given: { units, deeds: [check] }, expect: 'silent' },
    {
      name: 'checked again in one that is in date',
      given: {
        units,
        deeds: [
          { ...check, expires: '2026-04-30' },
          { ...check, at: '07:50', expires: '2027-01-31' },
        ],
      },
      expect: 'silent',
    },
  ],
};
