import type { EquipmentRule } from '../equipment-rule.ts';
import { faultsOfParts } from '../part-fault-parts.ts';

const units = { 'P-1': {} };
const parts = { 'line-1': { type: 'tubing' } } as const;
const on = { does: 'part', unit: 'P-1', part: 'line-1', action: 'installed', at: '07:40' } as const;
const kept = { ...on, action: 'kept-for-well', well: 'MW-3', at: '09:05' } as const;
const first = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const again = { does: 'decon', unit: 'P-1', from: '09:10', until: '09:40' } as const;
const second = { ...first, well: 'MW-5', from: '10:00', until: '11:00' } as const;

export const partOfAnotherWell: EquipmentRule = {
  code: 'part-of-another-well',
  title: 'A soft part that is kept for one well went into another',
  severity: 'caution',
  addressee: 'now',
  source: 'Study of tubing, osti.gov/biblio/290211: tubing is not moved between wells',
  verified: true,
  evaluate: (facts) =>
    faultsOfParts(
      facts,
      'of-another-well',
      (_, part, well, other) =>
        `The ${part} is kept for ${other} and went into ${well}. Put in a new one, or that of this well.`,
    ),
  vectors: [
    {
      name: 'kept for its well and put into another',
      given: { units, parts, deeds: [clean, on, first, kept, again, { ...on, at: '09:50' }, second] },
      expect: 'raised',
      says: 'The tubing line-1 is kept for MW-3 and went into MW-5',
    },
    {
      name: 'back into its own well',
      given: {
        units,
        parts,
        deeds: [clean, on, first, kept, again, { ...on, at: '09:50' }, { ...second, well: 'MW-3' }],
      },
      expect: 'silent',
    },
    {
      name: 'dedicated to another well by its own record',
      given: { units, parts: { 'line-1': { type: 'tubing', dedicatedTo: 'MW-9' } }, deeds: [clean, on, first] },
      expect: 'raised',
    },
  ],
};
