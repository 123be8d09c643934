import { fluidsNamed } from '../../../../catalog/decon/decon-fluids.ts';
import { materialsNamed } from '../../../../catalog/materials/wetted-materials.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import type { UnitRecord } from '../../equipment-records.ts';
import { momentText } from '../../moment.ts';
import { unitName } from '../../unit-kind.ts';
import type { UnitLine } from '../../unit-line.ts';
import type { EquipmentFault, EquipmentRule } from '../equipment-rule.ts';

function isStainless(unit: UnitRecord | undefined): boolean {
  const parts = unit?.fields.wettedParts ?? [];
  return parts.some(({ material }) => materialsNamed(material).some(({ name }) => name === 'stainless-steel-316'));
}

function isNitric(fluid: string | null | undefined): boolean {
  return fluidsNamed(fluid ?? '').some(({ id }) => id === 'nitric-acid');
}

function ofLine({ id, unit, decons }: UnitLine): readonly EquipmentFault[] {
  if (!unit || !isStainless(unit)) return [];
  return decons.flatMap(({ record, steps, began }) => {
    const acid = steps.filter(({ fields }) => fields.done && isNitric(fields.fluid));
    if (acid.length === 0) return [];
    return [
      {
        subjectKind: 'decon',
        subject: record.id,
        unit: id,
        of: id,
        sentence: `${unitName(unit, id)} has stainless steel in the water and was rinsed with nitric acid on ${momentText(began)}: it may oxidise the steel. Take hydrochloric acid for it, and an equipment blank for metals.`,
        evidence: [...acid.map((step) => fieldEvidence(step, 'fluid')), fieldEvidence(unit, 'wettedParts')],
      },
    ];
  });
}

const units = { 'P-1': { wettedParts: [{ part: 'housing', material: 'stainless steel 316' }] } };
const decon = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;

export const nitricAcidOnStainless: EquipmentRule = {
  code: 'nitric-acid-on-stainless',
  title: 'Stainless steel was rinsed with nitric acid',
  severity: 'note',
  addressee: 'tonight',
  source:
    'US EPA, RCRA Ground-Water Monitoring: Draft Technical Guidance, Nov 1992, p. 7-18: hydrochloric acid on stainless steel, for nitric acid may oxidise it',
  verified: true,
  evaluate: ({ index }) => [...index.lines.values()].flatMap(ofLine),
  vectors: [
    {
      name: 'nitric acid',
      given: { units, deeds: [{ ...decon, fluid: '0.1 N nitric acid' }] },
      expect: 'raised',
      says: 'was rinsed with nitric acid on 2026-05-04 07:00',
    },
    { name: 'hydrochloric acid', given: { units, deeds: [{ ...decon, fluid: '0.1 N HCl' }] }, expect: 'silent' },
    {
      name: 'a pump of plastic',
      given: {
        units: { 'P-1': { wettedParts: [{ part: 'housing', material: 'PVC' }] } },
        deeds: [{ ...decon, fluid: '0.1 N nitric acid' }],
      },
      expect: 'silent',
    },
  ],
};
