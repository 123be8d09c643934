import type { EquipmentRule } from '../equipment-rule.ts';
import { DEPOT_NEW_PARTS } from '../fault-parts.ts';
import { faultsOfParts } from '../part-fault-parts.ts';

const units = { 'P-1': {} };
const parts = { 'line-1': { type: 'tubing' }, 'line-2': { type: 'tubing' } } as const;
const on = { does: 'part', unit: 'P-1', part: 'line-1', action: 'installed', at: '07:40' } as const;
const off = { ...on, action: 'discarded', at: '09:05' } as const;
const first = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const again = { does: 'decon', unit: 'P-1', from: '09:10', until: '09:40' } as const;
const second = { ...first, well: 'MW-5', from: '10:00', until: '11:00' } as const;

export const discardedPartUsedAgain: EquipmentRule = {
  code: 'discarded-part-used-again',
  title: 'A discarded soft part was used again',
  severity: 'caution',
  addressee: 'now',
  source: `${DEPOT_NEW_PARTS}: no wetted soft part is used again`,
  verified: true,
  evaluate: (facts) =>
    faultsOfParts(
      facts,
      'discarded',
      (_, part, well) =>
        `The ${part} went into ${well} and was discarded before by its records. Put in a new one, or correct which part it is.`,
    ),
  vectors: [
    {
      name: 'put on again after the next decon',
      given: { units, parts, deeds: [clean, on, first, off, again, { ...on, at: '09:50' }, second] },
      expect: 'raised',
      says: 'The tubing line-1 went into MW-5',
    },
    {
      name: 'a new one',
      given: { units, parts, deeds: [clean, on, first, off, again, { ...on, part: 'line-2', at: '09:50' }, second] },
      expect: 'silent',
    },
    {
      name: 'discarded after its last well',
      given: { units, parts, deeds: [clean, on, first, off] },
      expect: 'silent',
    },
  ],
};
