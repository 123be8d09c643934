import type { EquipmentRule } from '../equipment-rule.ts';
import { overdueFaults } from './check-overdue.ts';

const units = { 'T-1': { type: 'water-level-tape' } } as const;
const checked = { does: 'service', unit: 'T-1', type: 'length-checked', at: '01-10 09:00' } as const;
const clean = { does: 'decon', unit: 'T-1', from: '07:00', until: '07:05' } as const;
const used = { does: 'at-well', unit: 'T-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;

export const tapeCheckOverdue: EquipmentRule = {
  code: 'tape-check-overdue',
  title: 'A water-level tape was used after its check against a steel tape was due',
  severity: 'note',
  addressee: 'tonight',
  source: 'US Army depot procedure SOP-011, rev. 0, Mar 2020, county file, doc 919545, page 366: every 6 months',
  verified: true,
  evaluate: (facts) =>
    overdueFaults(
      facts,
      ({ unit }) => unit?.fields.type === 'water-level-tape',
      ['length-checked'],
      'The length check',
    ),
  vectors: [
    {
      name: 'used the day after',
      given: { units, deeds: [{ ...checked, dueNext: '2026-05-03' }, clean, used] },
      expect: 'raised',
      says: 'The length check of T-1 was due on 2026-05-03',
    },
    {
      name: 'used on the day',
      given: { units, deeds: [{ ...checked, dueNext: '2026-05-04' }, clean, used] },
      expect: 'silent',
    },
    {
      name: 'checked again since',
      given: {
        units,
        deeds: [
          { ...checked, dueNext: '2026-05-03' },
          { ...checked, at: '05-01 09:00', dueNext: '2026-11-01' },
          clean,
          used,
        ],
      },
      expect: 'silent',
    },
    {
      name: 'checked again since, and no next date written',
      given: {
        units,
        deeds: [{ ...checked, dueNext: '2026-05-03' }, { ...checked, at: '05-01 09:00' }, clean, used],
      },
      expect: 'silent',
    },
    { name: 'no date is recorded', given: { units, deeds: [checked, clean, used] }, expect: 'silent' },
  ],
};
