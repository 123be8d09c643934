import { wellName } from '../../equipment-index.ts';
import type { EquipmentRule } from '../equipment-rule.ts';
import { entryFaults, entryName } from '../fault-parts.ts';

const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const one = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;
const other = { does: 'at-well', unit: 'P-1', well: 'MW-5', from: '08:40', until: '09:40', client: 'phone-2' } as const;

export const unitInTwoWells: EquipmentRule = {
  code: 'unit-in-two-wells',
  title: 'One unit in two wells at once',
  severity: 'question',
  addressee: 'now',
  source: 'Arithmetic of the records',
  verified: true,
  evaluate: (facts) =>
    entryFaults(facts, 'in-two-wells', (entry, well) => {
      const elsewhere = entry.overlapped ? wellName(facts.index, entry.overlapped.well) : 'another well';
      return `${entryName(entry)} is recorded in ${well} while it was in ${elsewhere}. Read the label of the pump, and correct the record that is wrong.`;
    }),
  vectors: [
    {
      name: 'twenty minutes',
      given: { units: { 'P-1': {} }, deeds: [clean, one, other] },
      expect: 'raised',
      says: 'P-1 is recorded in MW-5 while it was in MW-3',
    },
    {
      name: 'handed over, cleaned in between',
      given: {
        units: { 'P-1': {} },
        deeds: [clean, one, { does: 'decon', unit: 'P-1', from: '08:20', until: '08:38' }, other],
      },
      expect: 'silent',
    },
    {
      name: 'by no more than the clocks may be off: possible',
      given: { units: { 'P-1': {} }, deeds: [clean, one, { ...other, from: '08:56', doubtMin: 5 }] },
      expect: 'raised',
    },
    {
      name: 'the leaving of the first crew has not arrived yet',
      given: {
        units: { 'P-1': {} },
        deeds: [
          clean,
          { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00' },
          { does: 'decon', unit: 'P-1', from: '08:20', until: '08:38', client: 'phone-2' },
          other,
        ],
      },
      expect: 'silent',
    },
    {
      name: 'the same well',
      given: { units: { 'P-1': {} }, deeds: [clean, one, { ...other, well: 'MW-3' }] },
      expect: 'silent',
    },
  ],
};
