import type { EquipmentRule } from '../equipment-rule.ts';
import { DEPOT_BEFORE_USE, entryFaults, entryName } from '../fault-parts.ts';

const units = { 'B-1': { type: 'tubing', use: 'disposable' }, 'B-2': { type: 'tubing', use: 'disposable' } } as const;
const first = { does: 'at-well', unit: 'B-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;
const second = { does: 'at-well', unit: 'B-1', well: 'MW-5', from: '10:00' } as const;

export const disposableUsedAgain: EquipmentRule = {
  code: 'disposable-used-again',
  title: 'Disposable gear used at a second well',
  severity: 'caution',
  addressee: 'now',
  source: `${DEPOT_BEFORE_USE}: disposable bailers and tubing are used as they come; used for one well is common practice`,
  verified: false,
  evaluate: (facts) =>
    entryFaults(
      facts,
      'disposable-again',
      (entry, well) => `${entryName(entry)} is disposable, was used before and went into ${well}. Take a new one.`,
    ),
  vectors: [
    { name: 'at a second well', given: { units, deeds: [first, second] }, expect: 'raised', says: 'B-1 is disposable' },
    { name: 'a new one for each well', given: { units, deeds: [first, { ...second, unit: 'B-2' }] }, expect: 'silent' },
    { name: 'twice at one well', given: { units, deeds: [first, { ...second, well: 'MW-3' }] }, expect: 'silent' },
  ],
};
