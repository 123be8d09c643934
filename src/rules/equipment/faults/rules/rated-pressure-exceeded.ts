import { compareText } from '../../../../science/units/decimal-arithmetic.ts';
import { isPlainDecimal } from '../../../../science/units/fraction.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { wellName } from '../../equipment-index.ts';
import type { UnitRecord } from '../../equipment-records.ts';
import { unitName } from '../../unit-kind.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { PRACTICE } from '../fault-parts.ts';
import { type LastSetUp, lastSetUps } from '../last-set-ups.ts';
import { aboveRating } from '../vector-above-rating.ts';

function ratingOf(unit: UnitRecord | undefined): string | undefined {
  const rating = unit?.fields.maximumPressurePsi;
  return rating && isPlainDecimal(rating) ? rating : undefined;
}

/** Under the drive gas: the pump, and the regulator, tubing and fittings that were named at this visit. */
function weakest({ index }: EquipmentFacts, { pump, visit }: LastSetUp): UnitRecord | undefined {
  const others = (index.contactsOfVisit.get(visit) ?? []).map(({ unit }) => unit);
  const rated = [...new Set([pump, ...others])].flatMap((id) => index.units.get(id) ?? []).filter(ratingOf);
  return rated.toSorted((a, b) => compareText(ratingOf(a) ?? '', ratingOf(b) ?? '') || (a.id < b.id ? -1 : 1))[0];
}

function faultOf(facts: EquipmentFacts, one: LastSetUp): readonly EquipmentFault[] {
  const { index } = facts;
  const { record, pump, visit, well } = one;
  const pressure = record.fields.drivePressurePsi;
  const part = weakest(facts, one);
  const rating = ratingOf(part);
  if (!pressure || !isPlainDecimal(pressure) || !part || !rating || compareText(pressure, rating) <= 0) return [];
  return [
    {
      subjectKind: 'visit',
      subject: visit,
      visit,
      unit: pump,
      of: pump,
      sentence: `${unitName(index.units.get(pump), pump)} is driven in ${wellName(index, well)} with ${pressure} psi; ${unitName(part, part.id)} is rated for ${rating} psi at most. Let the pressure off, and set it below the weakest part.`,
      evidence: [fieldEvidence(record, 'drivePressurePsi'), fieldEvidence(part, 'maximumPressurePsi')],
    },
  ];
}

const units = { 'P-1': { type: 'bladder-pump', maximumPressurePsi: '100' } } as const;
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const atWell = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', drivePressurePsi: '90' } as const;
const regulator = { 'R-1': { type: 'regulator', maximumPressurePsi: '80' } } as const;
const beside = { does: 'beside', unit: 'R-1', at: '08:05' } as const;

export const ratedPressureExceeded: EquipmentRule = {
  code: 'rated-pressure-exceeded',
  title: 'A drive pressure above the rating of the weakest part',
  severity: 'caution',
  addressee: 'now',
  source: `${PRACTICE}: never above the rating of the weakest part; ratings as marked on the units`,
  verified: false,
  evaluate: (facts) => lastSetUps(facts).flatMap((one) => faultOf(facts, one)),
  vectors: [
    ...aboveRating({
      units,
      above: { drivePressurePsi: '110' },
      justAt: { drivePressurePsi: '100' },
      since: { drivePressurePsi: '60' },
      says: 'P-1 is driven in MW-3 with 110 psi; P-1 is rated for 100 psi',
    }),
    {
      name: 'the regulator is the weakest part',
      given: { units: { ...units, ...regulator }, deeds: [clean, atWell, beside] },
      expect: 'raised',
      says: 'R-1 is rated for 80 psi',
    },
  ],
};
