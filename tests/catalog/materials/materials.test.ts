import { describe, expect, it } from 'vitest';
import { groupsOfSuite, SUITE_GROUPS } from '../../../src/catalog/materials/suite-groups.ts';
import { materialsNamed, WETTED_MATERIALS } from '../../../src/catalog/materials/wetted-materials.ts';

describe('what a suite is called', () => {
  it.each([
    ['PFAS', ['pfas']],
    ['EPA 1633', ['pfas']],
    ['VOC', ['volatiles']],
    ['VOCs (8260)', ['volatiles']],
    ['SVOC', ['semivolatiles']],
    ['semi-volatile organics', ['semivolatiles']],
    ['semivolatiles', ['semivolatiles']],
    ['volatiles and semivolatiles', ['semivolatiles', 'volatiles']],
    ['dissolved metals', ['metals']],
    ['anions', ['inorganics']],
    ['vinyl chloride', ['volatiles']],
    ['chloride', ['inorganics']],
    ['perchlorate', []],
    ['suite B', []],
  ])('%s is %j', (name, groups) => {
    expect(groupsOfSuite(name)).toEqual(groups);
  });
});

describe('what a material is called', () => {
  it.each([
    ['PTFE', ['ptfe']],
    ['polyethylene, PTFE-lined', ['polyethylene', 'ptfe']],
    ['PTFE-free', []],
    ['HDPE', ['polyethylene']],
    ['stainless steel', ['stainless-steel-316']],
    ['brass', ['other-metal']],
    ['PVDF', ['other-fluoropolymer']],
    ['rubber', []],
    ['PFAS-free PTFE', ['ptfe']],
    ['PTFE (lead-free)', ['ptfe']],
    ['PTFE without dye', ['ptfe']],
    ['PTFE-free', []],
    ['PTFE free', []],
    ['no PTFE', []],
    ['without PTFE', []],
    ['without any PTFE', []],
    ['free of PTFE', []],
    ['non-PTFE', []],
    ['not lined with PTFE', []],
    ['polyethylene without PTFE', ['polyethylene']],
    ['PTFE-free silicone', ['silicone']],
  ])('%s is %j', (text, names) => {
    expect(materialsNamed(text).map((one) => one.name)).toEqual(names);
  });

  it('has a reason and a source for every group, and claims to have read none', () => {
    for (const material of WETTED_MATERIALS)
      for (const group of SUITE_GROUPS) {
        const { because, source, verified } = material.for[group];
        expect(because.length).toBeGreaterThan(0);
        expect(source).toMatch(/from memory|common practice, no source/);
        expect(verified).toBe(false);
      }
  });
});
