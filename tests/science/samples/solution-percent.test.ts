import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isWithinTransport, percentByWeight } from '../../../src/science/samples/solution-percent.ts';
import { given, why } from './given.ts';

const HNO3 = 63.013;
const NAOH = 39.997;

describe('acid or base in percent by weight', () => {
  // Doses from PHMSA, interpretation 99-0293, 21 Mar 2000; limits from 40 CFR 136.3, Table II, footnote 3.
  it.each([
    [
      'nitric acid, 2 mL of 15.8 M in 1 L',
      { solutionMl: 2, molPerL: 15.8, gramsPerMol: HNO3 },
      1_000,
      '0.15',
      0.199,
      3,
    ],
    [
      'sodium hydroxide, 5 mL of 5 M in 240 mL',
      { solutionMl: 5, molPerL: 5, gramsPerMol: NAOH },
      240,
      '0.080',
      0.41,
      2,
    ],
    ['nitric acid, 2 mL of 7.6 M in 250 mL', { solutionMl: 2, molPerL: 7.6, gramsPerMol: HNO3 }, 250, '0.15', 0.38, 2],
  ])('%s is above its limit of transport', (_what, dose, waterMl, limit, percent, places) => {
    expect(given(percentByWeight(dose, waterMl))).toBeCloseTo(percent, places);
    expect(isWithinTransport(dose, waterMl, limit)).toBe(false);
  });

  it('stays within with a tenth of the dose', () => {
    expect(isWithinTransport({ solutionMl: 0.2, molPerL: 15.8, gramsPerMol: HNO3 }, 1_000, '0.15')).toBe(true);
  });

  it('is the fraction of the mass, checked the other way round: percent times total is the acid', () => {
    const dose = fc.record({
      solutionMl: fc.double({ min: 0.01, max: 50, noNaN: true }),
      molPerL: fc.double({ min: 0.1, max: 18, noNaN: true }),
      gramsPerMol: fc.double({ min: 36, max: 99, noNaN: true }),
    });
    fc.assert(
      fc.property(dose, fc.integer({ min: 1, max: 4_000 }), (one, waterMl) => {
        const percent = given(percentByWeight(one, waterMl));
        const grams = one.solutionMl * one.molPerL * one.gramsPerMol * 0.001;
        expect((percent / 100) * (waterMl + 1.2 * one.solutionMl)).toBeCloseTo(grams, 9);
        expect(given(percentByWeight(one, waterMl * 2))).toBeLessThan(percent);
      }),
    );
  });

  it('refuses negative amounts and an empty bottle', () => {
    expect(why(percentByWeight({ solutionMl: -1, molPerL: 5, gramsPerMol: NAOH }, 240))).toContain('solutionMl of -1');
    expect(why(percentByWeight({ solutionMl: 0, molPerL: 5, gramsPerMol: NAOH }, 0))).toContain('empty bottle');
    expect(why(isWithinTransport({ solutionMl: 0, molPerL: 5, gramsPerMol: NAOH }, 0, '0.08'))).toContain(
      'empty bottle',
    );
  });
});
