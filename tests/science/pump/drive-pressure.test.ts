import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { waterDensityKgPerM3 } from '../../../src/science/levels/water-density.ts';
import {
  feetOfWaterDrivePressure,
  halfPsiAFootDrivePressure,
  hydrostaticDrivePressure,
  PSI_PER_FT_OF_WATER,
} from '../../../src/science/pump/drive-pressure.ts';
import { lowestRatedPart, type RatedPart, ratingsToRecord } from '../../../src/science/pump/lowest-rated-part.ts';
import { pressuresWithinRating } from '../../../src/science/pump/pressures-within-rating.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave an answer');

function given<T>(result: T): Exclude<T, { refused: string }> {
  if (isRefusal(result)) throw new Error(result.refused);
  return result as Exclude<T, { refused: string }>;
}

describe('drive pressure by its three rules', () => {
  // Computed: 0.4335 psi a foot and 10 psi.
  it.each([
    ['50', 31.7],
    ['100', 53.4],
    ['200', 96.7],
  ])('for a pump at %s ft is %f psi by the water column and 10 psi', (depth, psi) => {
    expect(Math.abs(Number(given(hydrostaticDrivePressure(depth, '10')).fromPsi) - psi)).toBeLessThan(0.0501);
  });

  // Common practice, no source: 60 to 70 ft of water for a pump at 50 ft.
  it('for a pump at 50 ft is 26.0 to 30.3 psi by 10 to 20 ft of water', () => {
    expect(feetOfWaterDrivePressure('50')).toMatchObject({ fromPsi: '26.0100', toPsi: '30.3450' });
  });

  it('for a pump at 100 ft is 60 psi by half a psi a foot, above the physical 53.35', () => {
    expect(Number(given(halfPsiAFootDrivePressure('100')).fromPsi)).toBe(60);
    expect(given(hydrostaticDrivePressure('100', '10')).fromPsi).toBe('53.3500');
  });

  it('counts a foot of water as the density of water from 4 to 15 °C does', () => {
    for (const celsius of [4, 10, 15]) {
      const psiPerFt = (given(waterDensityKgPerM3(celsius)) * 9.80665 * 0.3048) / 6_894.757293168361;
      expect(Math.abs(psiPerFt - Number(PSI_PER_FT_OF_WATER))).toBeLessThan(4e-4);
    }
  });

  it('rises with depth, and with 10 psi the rules keep their order', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 5_000 }), (tenths) => {
        const [depth, deeper] = [(tenths / 10).toFixed(1), ((tenths + 1) / 10).toFixed(1)];
        for (const rule of [
          feetOfWaterDrivePressure,
          halfPsiAFootDrivePressure,
          (ft: string) => hydrostaticDrivePressure(ft, '10'),
        ])
          expect(Number(given(rule(deeper)).fromPsi)).toBeGreaterThan(Number(given(rule(depth)).fromPsi));
        const feet = given(feetOfWaterDrivePressure(depth));
        const physical = Number(given(hydrostaticDrivePressure(depth, '10')).fromPsi);
        expect(Number(feet.toPsi)).toBeLessThan(physical);
        expect(physical).toBeLessThanOrEqual(Number(given(halfPsiAFootDrivePressure(depth)).fromPsi));
      }),
    );
  });

  it.each([
    [hydrostaticDrivePressure('-1', '10')],
    [hydrostaticDrivePressure('50', '-1')],
    [halfPsiAFootDrivePressure('-0.1')],
    [feetOfWaterDrivePressure('-5')],
  ])('refuses what is below 0', (result) => {
    expect(why(result)).toContain('below 0');
  });

  it('refuses a depth that is no decimal', () => {
    expect(why(halfPsiAFootDrivePressure('deep'))).toContain('no plain decimal');
  });
});

const parts: readonly RatedPart[] = [
  { part: 'pump', label: 'P-1', maximumPsi: '120' },
  { part: 'tubing', label: 'T-4', maximumPsi: '80' },
  { part: 'fitting', label: 'F-2', maximumPsi: '150' },
  { part: 'regulator', label: 'R-1', maximumPsi: '80.5' },
];

describe('the part that carries least', () => {
  it('is found in decimal, whatever the order', () => {
    expect(lowestRatedPart(parts)).toEqual({ part: 'tubing', label: 'T-4', maximumPsi: '80' });
    expect(lowestRatedPart(parts.toReversed())).toMatchObject({ label: 'T-4' });
  });

  it.each(['pump', 'tubing', 'fitting', 'regulator'])('is not named without a %s', (kind) => {
    const result = lowestRatedPart(parts.filter((one) => one.part !== kind));
    expect(why(result)).toContain(`which ${kind} is used`);
  });

  it('is not named without a rating of each, and says what to record', () => {
    const unrated = [...parts, { part: 'fitting', label: 'F-3', maximumPsi: undefined } as const];
    expect(ratingsToRecord(unrated)).toEqual(['the maximum rating in psi of the fitting F-3']);
    expect(why(lowestRatedPart(unrated))).toContain('F-3');
    expect(ratingsToRecord([])).toHaveLength(4);
  });

  it.each([
    ['0', 'is none'],
    ['-5', 'is none'],
    ['eighty', 'no plain decimal'],
  ])('refuses a rating of %s', (maximumPsi, reason) => {
    expect(why(lowestRatedPart([...parts, { part: 'fitting', label: 'F-3', maximumPsi }]))).toContain(reason);
  });
});

describe('pressures up to the rating', () => {
  const rules = [
    given(halfPsiAFootDrivePressure('50')),
    given(hydrostaticDrivePressure('50', '10')),
    given(feetOfWaterDrivePressure('50')),
  ];
  const names = ['depth-and-feet-of-water', 'hydrostatic-and-allowance', 'half-psi-a-foot'];

  it('come lowest first', () => {
    const { allowed, cut } = pressuresWithinRating(rules, '80');
    expect(allowed.map((one) => one.rule)).toEqual(names);
    expect(cut).toEqual([]);
  });

  it('are cut at the rating', () => {
    const { allowed, cut } = pressuresWithinRating(rules, '28');
    expect(allowed).toEqual([{ rule: 'depth-and-feet-of-water', fromPsi: '26.0100', toPsi: '28' }]);
    expect(cut).toEqual(names);
  });

  it('are none where the least is above it', () => {
    expect(pressuresWithinRating(rules, '26').allowed).toEqual([]);
  });

  it('never name a figure above the rating, and exactly the rating is within it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1_000 }), (tenths) => {
        const rating = (tenths / 10).toFixed(1);
        for (const { fromPsi, toPsi } of pressuresWithinRating(rules, rating).allowed) {
          expect(Number(fromPsi)).toBeLessThanOrEqual(Number(toPsi));
          expect(Number(toPsi)).toBeLessThanOrEqual(Number(rating));
        }
      }),
    );
    expect(pressuresWithinRating(rules, '35').cut).toEqual([]);
  });
});
