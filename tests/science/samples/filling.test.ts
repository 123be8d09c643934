import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allotWater, type WaterNeed } from '../../../src/science/samples/allot-water.ts';
import { bottleSetMl, fillTimeS } from '../../../src/science/samples/fill-time.ts';
import { given, why } from './given.ts';

const SET = [
  { count: 3, volumeMl: 40 },
  { count: 2, volumeMl: 1_000 },
  { count: 1, volumeMl: 500 },
  { count: 1, volumeMl: 250 },
];

describe('fill time', () => {
  it('of a 40 mL vial is 24 s at 100 mL/min and 16 s at 150', () => {
    expect([fillTimeS(40, 100), fillTimeS(40, 150)]).toEqual([24, 16]);
  });

  it('of 2,870 mL at 200 mL/min is 14.35 min', () => {
    const total = given(bottleSetMl(SET));
    expect(total).toBe(2_870);
    expect(given(fillTimeS(total, 200)) / 60).toBeCloseTo(14.35, 10);
  });

  it('of a set is the sum of its bottles', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ count: fc.nat(9), volumeMl: fc.nat(4_000) })),
        fc.integer({ min: 1, max: 1_000 }),
        (set, flow) => {
          const each = set.flatMap(({ count, volumeMl }) =>
            Array.from({ length: count }, () => given(fillTimeS(volumeMl, flow))),
          );
          expect(given(fillTimeS(given(bottleSetMl(set)), flow))).toBeCloseTo(
            each.reduce((sum, one) => sum + one, 0),
            6,
          );
        },
      ),
    );
  });

  it('refuses no flow, no volume and half a bottle', () => {
    expect(why(fillTimeS(40, 0))).toContain('above 0');
    expect(why(fillTimeS(-1, 100))).toContain('0 or more');
    expect(why(bottleSetMl([{ count: 1.5, volumeMl: 40 }]))).toContain('whole counts');
  });
});

describe('what to fill where water is short', () => {
  const vials: WaterNeed = { id: 'volatiles', count: 3, volumeMl: 40, leastCount: 1, leastVolumeMl: 40 };
  const amber: WaterNeed = { id: 'semivolatiles', count: 2, volumeMl: 1_000, leastCount: 1, leastVolumeMl: 1_000 };
  const metals: WaterNeed = { id: 'metals', count: 1, volumeMl: 500, leastCount: 1, leastVolumeMl: 250 };
  const anions: WaterNeed = { id: 'anions', count: 1, volumeMl: 250, leastCount: 1, leastVolumeMl: 100 };
  const needs = [vials, amber, metals, anions];

  it('with 900 mL of 2,870: vials, metals and anions whole, the litre bottles not at all', () => {
    expect(allotWater(needs, 900)).toEqual([
      { id: 'volatiles', share: 'whole', count: 3, volumeMl: 40 },
      { id: 'semivolatiles', share: 'none', count: 0, volumeMl: 0 },
      { id: 'metals', share: 'whole', count: 1, volumeMl: 500 },
      { id: 'anions', share: 'whole', count: 1, volumeMl: 250 },
    ]);
  });

  it('with 440 mL: the least of each first, then more by priority', () => {
    expect(allotWater(needs, 440)).toEqual([
      { id: 'volatiles', share: 'reduced', count: 2, volumeMl: 40 },
      { id: 'semivolatiles', share: 'none', count: 0, volumeMl: 0 },
      { id: 'metals', share: 'reduced', count: 1, volumeMl: 260 },
      { id: 'anions', share: 'reduced', count: 1, volumeMl: 100 },
    ]);
  });

  it('never uses more than there is nor fills less than can be analysed, and more water never takes the first its own', () => {
    const need = fc
      .record({
        count: fc.integer({ min: 1, max: 4 }),
        volumeMl: fc.integer({ min: 1, max: 1_000 }),
        least: fc.integer({ min: 1, max: 4 }),
        part: fc.integer({ min: 1, max: 1_000 }),
      })
      .map(({ count, volumeMl, least, part }) => ({
        id: 'a-need',
        count,
        volumeMl,
        leastCount: Math.min(least, count),
        leastVolumeMl: Math.min(part, volumeMl),
      }));
    const total = (shares: ReturnType<typeof allotWater>) =>
      shares.reduce((sum, { count, volumeMl }) => sum + count * volumeMl, 0);
    fc.assert(
      fc.property(fc.array(need, { maxLength: 6 }), fc.nat(6_000), fc.nat(1_000), (list, water, more) => {
        const shares = allotWater(list, water);
        expect(total(shares)).toBeLessThanOrEqual(water);
        for (const [at, { share, count, volumeMl }] of shares.entries()) {
          const asked = list[at];
          if (!asked) throw new Error('a share of nothing');
          if (share === 'none') expect([count, volumeMl]).toEqual([0, 0]);
          else expect(count >= asked.leastCount && volumeMl >= asked.leastVolumeMl).toBe(true);
          expect(share === 'whole').toBe(count === asked.count && volumeMl === asked.volumeMl);
        }
        const needed = list.reduce((sum, { count, volumeMl }) => sum + count * volumeMl, 0);
        if (water >= needed) expect(shares.every(({ share }) => share === 'whole')).toBe(true);
        if (shares[0] && shares[0].share !== 'none') expect(allotWater(list, water + more)[0]?.share).not.toBe('none');
      }),
    );
  });
});
