import { compareText } from '../../../../science/units/decimal-arithmetic.ts';
import { isPlainDecimal } from '../../../../science/units/fraction.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { wellName } from '../../equipment-index.ts';
import { unitName } from '../../unit-kind.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { PRACTICE } from '../fault-parts.ts';
import { type LastSetUp, lastSetUps } from '../last-set-ups.ts';
import { aboveRating } from '../vector-above-rating.ts';

function faultOf({ index }: EquipmentFacts, { record, pump, visit, well }: LastSetUp): readonly EquipmentFault[] {
  const unit = index.units.get(pump);
  const [depth, rated] = [record.fields.intakeDepthFt, unit?.fields.maximumDepthFt];
  if (!unit || !depth || !rated || !isPlainDecimal(depth) || !isPlainDecimal(rated)) return [];
  if (compareText(depth, rated) <= 0) return [];
  return [
    {
      subjectKind: 'visit',
      subject: visit,
      visit,
      unit: pump,
      of: pump,
      sentence: `The intake of ${unitName(unit, pump)} hangs at ${depth} ft in ${wellName(index, well)}; it is rated for ${rated} ft. Hang it higher, or take a pump for that depth.`,
      evidence: [fieldEvidence(record, 'intakeDepthFt'), fieldEvidence(unit, 'maximumDepthFt')],
    },
  ];
}

export const pumpBelowRatedDepth: EquipmentRule = {
  code: 'pump-below-rated-depth',
  title: 'A pump hangs deeper than it is rated for',
  severity: 'question',
  addressee: 'now',
  source: `${PRACTICE}; the depth as marked on the pump`,
  verified: false,
  evaluate: (facts) => lastSetUps(facts).flatMap((one) => faultOf(facts, one)),
  vectors: aboveRating({
    units: { 'P-1': { maximumDepthFt: '120' } },
    above: { intakeDepthFt: '130' },
    justAt: { intakeDepthFt: '120' },
    since: { intakeDepthFt: '110' },
    says: 'hangs at 130 ft in MW-3; it is rated for 120 ft',
  }),
};
