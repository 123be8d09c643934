import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { electrodeSlope } from '../../../src/science/ph/electrode-slope.ts';
import { nernstSlopeMv } from '../../../src/science/ph/nernst-slope.ts';
import { phthalatePh } from '../../../src/science/ph/phthalate-ph.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a number');

describe('the Nernst slope', () => {
  // Computed from the constants of CODATA 2018.
  it.each([
    [5, 55.19],
    [10, 56.18],
    [15, 57.18],
    [20, 58.17],
    [25, 59.16],
  ])('at %s °C is %s mV', (celsius, mv) => {
    expect(nernstSlopeMv(celsius)).toBeCloseTo(mv, 2);
  });

  it('is in proportion to the kelvins, 0.19842 mV each', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 100, noNaN: true }), (celsius) => {
        expect(Number(nernstSlopeMv(celsius)) / (celsius + 273.15)).toBeCloseTo(0.198421, 6);
      }),
    );
  });

  it.each([[-1], [101], [Number.NaN]])('refuses a buffer of %s °C', (celsius) => {
    expect(why(nernstSlopeMv(celsius))).toContain('not liquid water');
  });
});

describe('the slope of an electrode', () => {
  it('is 57.33 mV and 96.9 % where 172 mV lie between pH 7 and pH 4', () => {
    const slope = electrodeSlope({ ph: 7, mv: 0 }, { ph: 4, mv: 172 }, 25);
    if (isRefusal(slope)) throw new Error(slope.refused);
    expect(slope.mvPerPh).toBeCloseTo(57.333, 3);
    expect(slope.percentOfNernst).toBeCloseTo(96.9, 1);
    expect(slope.mvAtPh7).toBeCloseTo(0, 9);
  });

  it('is that of the electrode in any two buffers and either order, with its offset', () => {
    const ph = fc.double({ min: 1, max: 13, noNaN: true });
    fc.assert(
      fc.property(
        ph,
        ph,
        fc.double({ min: 40, max: 60, noNaN: true }),
        fc.integer({ min: -40, max: 40 }),
        (a, b, per, off) => {
          fc.pre(Math.abs(a - b) >= 1);
          const read = (at: number) => ({ ph: at, mv: off - per * (at - 7) });
          for (const slope of [electrodeSlope(read(a), read(b), 12), electrodeSlope(read(b), read(a), 12)]) {
            if (isRefusal(slope)) throw new Error(slope.refused);
            expect(slope.mvPerPh).toBeCloseTo(per, 6);
            expect(slope.mvAtPh7).toBeCloseTo(off, 6);
            expect(slope.percentOfNernst).toBeCloseTo((100 * per) / Number(nernstSlopeMv(12)), 6);
          }
        },
      ),
    );
  });

  it.each([
    [electrodeSlope({ ph: 7, mv: 0 }, { ph: 6.5, mv: 30 }, 25), 'at least 1 pH apart'],
    [electrodeSlope({ ph: 7, mv: 0 }, { ph: 4, mv: Number.NaN }, 25), 'NaN mV'],
    [electrodeSlope({ ph: 7, mv: 0 }, { ph: 4, mv: 172 }, 130), '130 °C'],
  ])('refuses buffers that make none: %#', (result, says) => {
    expect(why(result)).toContain(says);
  });
});

describe('phthalate', () => {
  // Hetzer, Durst, Robinson and Bates 1977, computed from the equation of the abstract.
  it.each([
    [0, 4.0101],
    [10, 4.0001],
    [20, 4.0015],
    [25, 4.0059],
    [30, 4.0124],
    [40, 4.0312],
  ])('at %s °C has pH %s', (celsius, ph) => {
    expect(phthalatePh(celsius)).toBeCloseTo(ph, 4);
  });

  it('is least near 13 °C, and is never 0.05 from 4.00', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 40, noNaN: true }), (celsius) => {
        expect(Number(phthalatePh(celsius))).toBeGreaterThanOrEqual(Number(phthalatePh(13)) - 0.0005);
        expect(Math.abs(Number(phthalatePh(celsius)) - 4)).toBeLessThan(0.05);
      }),
    );
  });

  it.each([[-0.1], [40.1], [Number.NaN]])('refuses %s °C', (celsius) => {
    expect(why(phthalatePh(celsius))).toContain('outside 0 to 40');
  });
});
