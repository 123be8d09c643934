import type { EquipmentRule } from '../equipment-rule.ts';
import { DEPOT_BEFORE_USE, entryFaults, entryName } from '../fault-parts.ts';

const atWell = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00' } as const;
const cleaned = { does: 'decon', unit: 'P-1', from: '07:30', until: '07:50' } as const;

export const unitNotKnownClean: EquipmentRule = {
  code: 'unit-not-known-clean',
  title: 'A unit that is not known to be clean went into a well',
  severity: 'caution',
  addressee: 'now',
  source: `${DEPOT_BEFORE_USE}: what is not known to be clean is cleaned before use`,
  verified: true,
  evaluate: (facts) =>
    entryFaults(facts, 'not-known-clean', (entry, well) => {
      const { cause } = entry.found;
      const why = cause.by === 'service' ? 'since it arrived' : 'before it';
      return `${entryName(entry)} went into ${well} and no complete decon is recorded ${why}. Record it if it was done; else pull it and clean it, or take an equipment blank through it.`;
    }),
  vectors: [
    {
      name: 'no record of it',
      given: { units: { 'P-1': {} }, deeds: [atWell] },
      expect: 'raised',
      says: 'P-1 went into MW-3',
    },
    {
      name: 'a rental that arrived',
      given: {
        units: { 'P-1': { ownership: 'rented' } },
        deeds: [{ does: 'service', unit: 'P-1', type: 'arrived', at: '07:00' }, atWell],
      },
      expect: 'raised',
      says: 'since it arrived',
    },
    { name: 'cleaned before it', given: { units: { 'P-1': {} }, deeds: [cleaned, atWell] }, expect: 'silent' },
    {
      name: 'cleaned, and then sent for repair and back',
      given: {
        units: { 'P-1': { ownership: 'rented' } },
        deeds: [cleaned, { does: 'service', unit: 'P-1', type: 'arrived', at: '07:55' }, atWell],
      },
      expect: 'raised',
    },
    {
      name: 'new disposable tubing',
      given: { units: { 'P-1': { type: 'tubing', use: 'disposable' } }, deeds: [atWell] },
      expect: 'silent',
    },
    {
      name: 'a meter on the line at the first well',
      given: { units: { 'P-1': { type: 'multi-parameter-meter' } }, deeds: [{ ...atWell, how: 'on-the-line' }] },
      expect: 'silent',
    },
    {
      name: 'the decon is as near as the clocks may be off: possible',
      given: {
        units: { 'P-1': {} },
        deeds: [atWell, { ...cleaned, from: '08:02', until: '08:04', client: 'phone-2', doubtMin: 5 }],
      },
      expect: 'raised',
    },
  ],
};
