import { wellName } from '../../equipment-index.ts';
import type { EquipmentRule } from '../equipment-rule.ts';
import { entryFaults, entryName, REGION_1 } from '../fault-parts.ts';

const first = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;
const second = { does: 'at-well', unit: 'P-1', well: 'MW-5', from: '10:00' } as const;
const cleanBefore = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const cleaned = { does: 'decon', unit: 'P-1', from: '09:10', until: '09:40' } as const;

export const usedUnitIntoWell: EquipmentRule = {
  code: 'used-unit-into-well',
  title: 'A used unit went into another well without a decon',
  severity: 'caution',
  addressee: 'now',
  source: `${REGION_1}: cleaned after every well`,
  verified: true,
  evaluate: (facts) =>
    entryFaults(facts, 'used-elsewhere', (entry, well) => {
      const from = entry.before ? wellName(facts.index, entry.before.well) : 'another well';
      return `${entryName(entry)} came into ${well} from ${from} and no decon is recorded in between. Record it if it was done; else pull it and clean it, or take an equipment blank through it.`;
    }),
  vectors: [
    {
      name: 'from one well into the next',
      given: { units: { 'P-1': {} }, deeds: [cleanBefore, first, second] },
      expect: 'raised',
      says: 'P-1 came into MW-5 from MW-3 and no decon is recorded in between',
    },
    {
      name: 'cleaned in between',
      given: { units: { 'P-1': {} }, deeds: [cleanBefore, first, cleaned, second] },
      expect: 'silent',
    },
    {
      name: 'whatever the order of arrival, and whoever cleaned it',
      given: { units: { 'P-1': {} }, deeds: [second, { ...cleaned, client: 'phone-2' }, first, cleanBefore] },
      expect: 'silent',
    },
    {
      name: 'back into the same well',
      given: { units: { 'P-1': {} }, deeds: [cleanBefore, first, { ...second, well: 'MW-3' }] },
      expect: 'silent',
    },
    {
      name: 'a dedicated pump in its well',
      given: {
        units: { 'P-1': { use: 'dedicated', dedicatedTo: 'MW-3' } },
        deeds: [first, { ...second, well: 'MW-3' }],
      },
      expect: 'silent',
    },
    {
      name: 'a dedicated pump in another well',
      given: { units: { 'P-1': { use: 'dedicated', dedicatedTo: 'MW-3' } }, deeds: [first, second] },
      expect: 'raised',
    },
    {
      name: 'a suction pump stays dry',
      given: { units: { 'P-1': { type: 'peristaltic-pump' } }, deeds: [first, second] },
      expect: 'silent',
    },
    {
      name: 'a controller beside the well',
      given: {
        units: { 'P-1': { type: 'pump-controller' } },
        deeds: [
          { ...first, how: 'beside-the-well' },
          { ...second, how: 'beside-the-well' },
        ],
      },
      expect: 'silent',
    },
  ],
};
