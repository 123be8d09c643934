import type { EquipmentRule } from '../equipment-rule.ts';
import { PRACTICE } from '../fault-parts.ts';
import { overdueFaults } from './check-overdue.ts';

const units = { 'P-1': {} };
const serviced = { does: 'service', unit: 'P-1', type: 'serviced', at: '01-10 09:00' } as const;
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const used = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;

export const serviceOverdue: EquipmentRule = {
  code: 'service-overdue',
  title: 'A unit was used after its service was due',
  severity: 'note',
  addressee: 'office',
  source: PRACTICE,
  verified: false,
  evaluate: (facts) => overdueFaults(facts, () => true, ['serviced', 'inspected'], 'The service'),
  vectors: [
    {
      name: 'used after the day',
      given: { units, deeds: [{ ...serviced, dueNext: '2026-04-30' }, clean, used] },
      expect: 'raised',
      says: 'The service of P-1 was due on 2026-04-30',
    },
    {
      name: 'not due yet',
      given: { units, deeds: [{ ...serviced, dueNext: '2026-06-30' }, clean, used] },
      expect: 'silent',
    },
    {
      name: 'serviced again, and no next day written',
      given: {
        units,
        deeds: [{ ...serviced, dueNext: '2026-04-30' }, { ...serviced, at: '05-02 09:00' }, clean, used],
      },
      expect: 'silent',
    },
    {
      name: 'an inspection that says no day is no service',
      given: {
        units,
        deeds: [
          { ...serviced, dueNext: '2026-04-30' },
          { ...serviced, type: 'inspected', at: '05-02 09:00' },
          clean,
          used,
        ],
      },
      expect: 'raised',
    },
    { name: 'due and not used', given: { units, deeds: [{ ...serviced, dueNext: '2026-04-30' }] }, expect: 'silent' },
  ],
};
