import { fieldEvidence } from '../../../flags/evidence.ts';
import { carrierName } from '../../carrier.ts';
import { dayOf } from '../../moment.ts';
import type { EquipmentRule } from '../equipment-rule.ts';

const given = {
  units: { 'P-1': {} },
  parts: { 'bladder-1': { type: 'bladder' } },
  plan: { partLotsRequired: ['bladder'] },
  deeds: [{ does: 'part', unit: 'P-1', part: 'bladder-1', action: 'installed', at: '07:20' }],
} as const;

export const partLotMissing: EquipmentRule = {
  code: 'part-lot-missing',
  title: 'The lot of a soft part is not written down where the plan asks for it',
  severity: 'note',
  addressee: 'tonight',
  source: 'The plan of the event; common practice, no source',
  verified: false,
  evaluate: ({ index, plan, isDayClosed }) =>
    [...index.staysOfPart].flatMap(([id, stays]) => {
      const part = index.parts.get(id);
      const [stay] = stays;
      if (!part || !stay || part.fields.lot || !isDayClosed(dayOf(stay.from))) return [];
      if (!plan.partLotsRequired?.includes(part.fields.type)) return [];
      const name = carrierName(index, { kind: 'part', id });
      return [
        {
          subjectKind: 'part',
          subject: id,
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
