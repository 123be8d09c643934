import { deconProtocol } from '../../../../catalog/decon/decon-protocols.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import type { DeconSpan } from '../../decon-span.ts';
import { dayOf, momentText } from '../../moment.ts';
import { unitName } from '../../unit-kind.ts';
import type { EquipmentRule } from '../equipment-rule.ts';

/** Whether a step was done that leaves water, and no drum is named for it. */
function isWithoutDrum({ record, steps }: DeconSpan): boolean {
  const wet = (deconProtocol(record.fields.protocol)?.steps ?? []).filter(({ makesWaste }) => makesWaste);
  const ids = new Set(wet.map(({ id }) => id));
  return !record.fields.wasteTo && steps.some(({ fields }) => fields.done && ids.has(fields.step));
}

const units = { 'P-1': {} };
const closed = ['2026-05-04'];
const decon = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30', fluid: 'detergent solution' } as const;

export const deconWaterWithoutDrum: EquipmentRule = {
  code: 'decon-water-without-drum',
  title: 'Into which drum the water of a decontamination went is not recorded',
  severity: 'note',
  addressee: 'tonight',
  source:
    'US EPA, RCRA Ground-Water Monitoring: Draft Technical Guidance, Nov 1992, p. 7-18: waste fluids are contained until they are characterised',
  verified: true,
  evaluate: ({ index, isDayClosed }) =>
    [...index.lines.values()].flatMap(({ id, unit, decons }) =>
      decons
        .filter((span) => isWithoutDrum(span) && isDayClosed(id, dayOf(span.began)))
        .map(({ record, began }) => ({
          subjectKind: 'decon',
          subject: record.id,
          unit: id,
          of: id,
          sentence: `Into which drum the water of the decon of ${unitName(unit, id)} on ${momentText(began)} went is not recorded. Write the label of the drum down.`,
          evidence: [fieldEvidence(record, 'wasteTo')],
        })),
    ),
  vectors: [
    {
      name: 'the day is over',
      given: { units, closed, deeds: [decon] },
      expect: 'raised',
      says: 'the decon of P-1 on 2026-05-04 07:00',
    },
    { name: 'the day goes on', given: { units, deeds: [decon] }, expect: 'silent' },
    { name: 'the drum is named', given: { units, closed, deeds: [{ ...decon, wasteTo: 'D-12' }] }, expect: 'silent' },
    {
      name: 'no step is recorded',
      given: { units, closed, deeds: [{ ...decon, fluid: undefined }] },
      expect: 'silent',
    },
  ],
};
