import type { EquipmentRule } from '../equipment-rule.ts';
import { entryFaults, entryName, PRACTICE } from '../fault-parts.ts';

const clean = { does: 'decon', unit: 'P-1', from: '06:00', until: '06:30' } as const;
const out = { does: 'service', unit: 'P-1', type: 'out-of-service', at: '07:00' } as const;
const atWell = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00' } as const;

export const unitOutOfService: EquipmentRule = {
  code: 'unit-out-of-service-used',
  title: 'A unit that is out of service was used',
  severity: 'caution',
  addressee: 'now',
  source: PRACTICE,
  verified: false,
  evaluate: (facts) =>
    entryFaults(
      facts,
      'out-of-service',
      (entry, well) =>
        `${entryName(entry)} was used at ${well} and is out of service by its records. Take another, or record that it is back in service.`,
    ),
  vectors: [
    {
      name: 'used all the same',
      given: { units: { 'P-1': {} }, deeds: [clean, out, atWell] },
      expect: 'raised',
      says: 'P-1 was used at MW-3',
    },
    {
      name: 'back in service',
      given: { units: { 'P-1': {} }, deeds: [clean, out, { ...out, type: 'back-in-service', at: '07:30' }, atWell] },
      expect: 'silent',
    },
    {
      name: 'it broke in the well',
      given: { units: { 'P-1': {} }, deeds: [clean, atWell, { ...out, at: '08:30' }] },
      expect: 'silent',
    },
  ],
};
