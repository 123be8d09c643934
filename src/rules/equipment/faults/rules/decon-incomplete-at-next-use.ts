import type { EquipmentRule } from '../equipment-rule.ts';
import { entryFaults, entryName, REGION_1 } from '../fault-parts.ts';

const before = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;
const next = { does: 'at-well', unit: 'P-1', well: 'MW-5', from: '10:00' } as const;
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;

export const deconIncompleteAtNextUse: EquipmentRule = {
  code: 'decon-incomplete-at-next-use',
  title: 'A unit went into a well before its decon was complete',
  severity: 'caution',
  addressee: 'now',
  source: `${REGION_1}: cleaned after every well; a decon is complete by its protocol`,
  verified: true,
  evaluate: (facts) =>
    entryFaults(facts, 'decon-incomplete', (entry, well) => {
      const { cause } = entry.found;
      const why = cause.by === 'decon' ? ` ${cause.decon.standing.sentence}` : '';
      return `${entryName(entry)} went into ${well} before its decon was complete.${why} Record what was done, or clean it again.`;
    }),
  vectors: [
    {
      name: 'a step is missing',
      given: {
        units: { 'P-1': {} },
        deeds: [clean, before, { does: 'decon', unit: 'P-1', from: '09:10', until: '09:40', isIncomplete: true }, next],
      },
      expect: 'raised',
      says: 'P-1 went into MW-5 before its decon was complete',
    },
    {
      name: 'begun and never ended',
      given: { units: { 'P-1': {} }, deeds: [clean, before, { does: 'decon', unit: 'P-1', from: '09:10' }, next] },
      expect: 'raised',
    },
    {
      name: 'begun, and done again in full',
      given: {
        units: { 'P-1': {} },
        deeds: [
          clean,
          before,
          { does: 'decon', unit: 'P-1', from: '09:10', isIncomplete: true },
          { does: 'decon', unit: 'P-1', from: '09:20', until: '09:50' },
          next,
        ],
      },
      expect: 'silent',
    },
    {
      name: 'it ended as near after as the clocks may be off: possible',
      given: {
        units: { 'P-1': {} },
        deeds: [
          clean,
          before,
          { does: 'decon', unit: 'P-1', from: '09:30', until: '10:01', client: 'phone-2', doubtMin: 5 },
          next,
        ],
      },
      expect: 'raised',
    },
    {
      name: 'it went back into the same well',
      given: {
        units: { 'P-1': {} },
        deeds: [clean, before, { does: 'decon', unit: 'P-1', from: '09:10' }, { ...next, well: 'MW-3' }],
      },
      expect: 'silent',
    },
  ],
};
