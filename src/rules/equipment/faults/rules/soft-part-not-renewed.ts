import type { EquipmentRule } from '../equipment-rule.ts';
import { DEPOT_NEW_PARTS } from '../fault-parts.ts';
import { faultsOfParts } from '../part-fault-parts.ts';

const units = { 'P-1': { type: 'bladder-pump' } } as const;
const parts = { 'bladder-1': { type: 'bladder' }, 'bladder-2': { type: 'bladder' } } as const;
const clean = {
  does: 'decon',
  unit: 'P-1',
  from: '07:00',
  until: '07:30',
  protocol: 'bladder-pump-new-parts',
} as const;
const on = { does: 'part', unit: 'P-1', part: 'bladder-1', action: 'installed', at: '07:20' } as const;
const first = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;
const again = { ...clean, from: '09:10', until: '09:40' } as const;
const second = { ...first, well: 'MW-5', from: '10:00' } as const;
const fresh = { ...on, part: 'bladder-2', at: '09:30' } as const;

export const softPartNotRenewed: EquipmentRule = {
  code: 'soft-part-not-renewed',
  title: 'A soft part went on into the next well where a new one is asked for',
  severity: 'caution',
  addressee: 'now',
  source: `${DEPOT_NEW_PARTS}: new bladder and new tubing between wells`,
  verified: true,
  evaluate: (facts) =>
    faultsOfParts(
      facts,
      'not-renewed',
      (_, part, well, other) =>
        `The ${part} went into ${well} and had been in ${other}: the protocol asks for a new one between wells. Record the new one if it was put in.`,
    ),
  vectors: [
    {
      name: 'the bladder stayed in',
      given: { units, parts, deeds: [clean, on, first, again, second] },
      expect: 'raised',
      says: 'The bladder bladder-1 went into MW-5 and had been in MW-3',
    },
    {
      name: 'a new bladder',
      given: { units, parts, deeds: [clean, on, first, again, fresh, second] },
      expect: 'silent',
    },
    {
      name: 'a protocol that leaves the parts in',
      given: { units, parts, deeds: [clean, on, first, { ...again, protocol: 'pump-flush' }, second] },
      expect: 'silent',
    },
    {
      name: 'the plan asks for it whatever the protocol',
      given: {
        units,
        parts,
        plan: { partsRenewed: ['bladder'] },
        deeds: [clean, on, first, { ...again, protocol: 'pump-flush' }, second],
      },
      expect: 'raised',
    },
    {
      name: 'the pump was not cleaned at all, which tells more',
      given: { units, parts, plan: { partsRenewed: ['bladder'] }, deeds: [clean, on, first, second] },
      expect: 'silent',
    },
    {
      name: 'the same well again',
      given: { units, parts, deeds: [clean, on, first, again, { ...second, well: 'MW-3' }] },
      expect: 'silent',
    },
  ],
};
