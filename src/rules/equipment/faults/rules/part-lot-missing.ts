import { fieldEvidence } from '../../../flags/evidence.ts';
import { carrierName } from '../../carrier.ts';
import type { EquipmentIndex } from '../../equipment-index.ts';
import { dayOf } from '../../moment.ts';
import { isOnDuring, type PartStay } from '../../part-stay.ts';
import type { EquipmentRule } from '../equipment-rule.ts';

/** The first visit that it is on for; of one that was put in after the last, that last. */
function visitOf(index: EquipmentIndex, stay: PartStay): string | undefined {
  const contacts = index.lines.get(stay.unit)?.wet ?? [];
  const on = contacts.find((contact) => isOnDuring(stay, contact));
  return (on ?? contacts.findLast(({ from }) => from.ms <= stay.from.ms))?.visit;
}

const given = {
  units: { 'P-1': {} },
  parts: { 'bladder-1': { type: 'bladder' } },
  plan: { partLotsRequired: ['bladder'] },
  deeds: [
    { does: 'decon', unit: 'P-1', from: '07:00', until: '07:15' },
    { does: 'part', unit: 'P-1', part: 'bladder-1', action: 'installed', at: '07:20' },
    { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' },
    { does: 'decon', unit: 'P-1', from: '09:10', until: '09:40' },
  ],
} as const;

export const partLotMissing: EquipmentRule = {
  code: 'part-lot-missing',
  title: 'The lot of a soft part is not written down where the plan asks for it',
  severity: 'note',
  addressee: 'tonight',
  source: 'The plan of the event; common practice, no source',
  verified: false,
  evaluate: ({ index, planOf, isDayClosed }) =>
    [...index.staysOfPart].flatMap(([id, stays]) => {
      const part = index.parts.get(id);
      const [stay] = stays;
      if (!part || !stay || part.fields.lot || !isDayClosed(stay.unit, dayOf(stay.from))) return [];
      if (!planOf(visitOf(index, stay)).partLotsRequired?.includes(part.fields.type)) return [];
      const name = carrierName(index, { kind: 'part', id });
      return [
        {
          subjectKind: 'part',
          subject: id,
          unit: stay.unit,
          of: id,
          sentence: `The plan asks for the lot of each ${part.fields.type.replaceAll('-', ' ')}: that of the ${name} is not recorded. Read it from the bag and record it.`,
          evidence: [fieldEvidence(part, 'lot'), { record: stay.from.record }],
        },
      ];
    }),
  vectors: [
    {
      name: 'at the close of the day',
      given: { ...given, closed: ['2026-05-04'] },
      expect: 'raised',
      says: 'that of the bladder bladder-1',
    },
    { name: 'the day goes on', given, expect: 'silent' },
    { name: 'not asked for', given: { ...given, plan: {}, closed: ['2026-05-04'] }, expect: 'silent' },
    {
      name: 'written down',
      given: { ...given, parts: { 'bladder-1': { type: 'bladder', lot: 'L-1' } }, closed: ['2026-05-04'] },
      expect: 'silent',
    },
  ],
};
