import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SUITE_GROUPS } from '../../../src/catalog/materials/suite-groups.ts';
import {
  knownSuites,
  materialsForSuites,
  partsAgainstSuites,
} from '../../../src/rules/pump-set-up/materials-for-suites.ts';

const that = (suitability: string, groups: Parameters<typeof materialsForSuites>[0]) =>
  materialsForSuites(groups)
    .filter((one) => one.suitability === suitability)
    .map((one) => one.material);

describe('materials for the suites', () => {
  // Common practice, no source: for PFAS no PTFE bladder, a polyethylene one.
  it('for PFAS allows no PTFE and no kin of it, and polyethylene', () => {
    expect(that('does-not-suit', ['pfas'])).toEqual(['ptfe', 'other-fluoropolymer']);
    expect(that('suits', ['pfas'])).toContain('polyethylene');
    expect(partsAgainstSuites([{ part: 'bladder', material: 'PTFE' }], ['pfas'])).toHaveLength(1);
    expect(partsAgainstSuites([{ part: 'bladder', material: 'polyethylene' }], ['pfas'])).toEqual([]);
    expect(partsAgainstSuites([{ part: 'bladder', material: 'PTFE' }], ['metals'])).toEqual([]);
  });

  it('for volatiles allows PTFE and no silicone, for metals no brass', () => {
    expect(that('suits', ['volatiles'])).toContain('ptfe');
    expect(that('does-not-suit', ['volatiles'])).toContain('silicone');
    expect(that('does-not-suit', ['metals'])).toEqual(['other-metal']);
  });

  it('for PFAS and volatiles together leaves stainless steel without and polyethylene with care', () => {
    expect(that('suits', ['pfas', 'volatiles'])).toEqual(['stainless-steel-316']);
    expect(that('with-care', ['pfas', 'volatiles'])).toContain('polyethylene');
  });

  it('never suits better with one group more, in whatever order', () => {
    const group = fc.constantFrom(...SUITE_GROUPS);
    fc.assert(
      fc.property(fc.uniqueArray(group, { minLength: 1 }), group, (groups, more) => {
        const after = that('suits', [more, ...groups]);
        const before = that('suits', groups);
        expect(after.filter((one) => !before.includes(one))).toEqual([]);
        expect(that('suits', groups.toReversed())).toEqual(before);
      }),
    );
  });

  it('checks nothing for a suite that it does not know, and says which', () => {
    expect(knownSuites(['suite B', 'PFAS', 'PFOS'])).toEqual({ groups: ['pfas'], unknown: ['suite B'] });
    expect(materialsForSuites([])).toEqual([]);
    expect(partsAgainstSuites([{ part: 'bladder', material: 'PTFE' }], [])).toEqual([]);
    expect(partsAgainstSuites([{ part: 'O-ring', material: 'rubber' }], ['pfas'])[0]).toContain('ask for a blank');
  });
});
