import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cylinderVolumeMl } from '../../src/science/cylinder-volume.ts';
import { minimumPurgeVolume } from '../../src/science/minimum-purge-volume.ts';
import { isRefusal } from '../../src/science/refusal.ts';

const ML_PER_GALLON = 3_785.411784;

function litres(insideDiameterIn: number, lengthFt: number): number {
  const volume = cylinderVolumeMl(insideDiameterIn, lengthFt);
  if (isRefusal(volume)) throw new Error(volume.refused);
  return volume / 1_000;
}

describe('volume of casing and tubing', () => {
  // Computed from V = pi D^2 / 4: litres per foot of casing.
  it.each([
    [0.75, 0.0869],
    [1.0, 0.1544],
    [2.0, 0.6178],
    [2.067, 0.6599],
    [3.068, 1.4537],
    [4.0, 8.1073 * 0.3048],
    [6.065, 18.639 * 0.3048],
  ])('a casing of %s in holds %s L a foot', (diameter, expected) => {
    expect(litres(diameter, 1)).toBeCloseTo(expected, 3);
  });

  // Computed: millilitres per foot of tubing.
  it.each([
    [0.125, 2.413],
    [0.17, 4.463],
    [0.1875, 5.43],
    [0.25, 9.653],
    [0.375, 21.72],
    [0.5, 38.61],
  ])('tubing of %s in inside diameter holds %s mL a foot', (diameter, expected) => {
    expect(litres(diameter, 1) * 1_000).toBeCloseTo(expected, 2);
  });

  // Colorado state file, doc 1026119, page 33, Table 2-1 (2013), which prints 12.80 gal from rounded 0.16 gal/ft.
  it('finds 13.06 gal in 80 ft of 2-in casing, where a table of rounded factors prints 12.80', () => {
    expect((litres(2, 80) * 1_000) / ML_PER_GALLON).toBeCloseTo(13.06, 2);
  });

  // 0.0408 D^2 H gallons with D in inches and H in feet; exact factor 0.04079990.
  it('is the gallon formula of the trade in other units', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 12, noNaN: true }),
        fc.double({ min: 0, max: 500, noNaN: true }),
        (d, h) => {
          expect((litres(d, h) * 1_000) / ML_PER_GALLON).toBeCloseTo(0.0407999 * d * d * h, 1);
        },
      ),
    );
  });

  it('shows what the outside diameter would do: 0.25 in for 0.170 in overstates 2.16 times', () => {
    expect(litres(0.25, 1) / litres(0.17, 1)).toBeCloseTo(2.16, 2);
  });

  it.each([
    [0, 10],
    [-2, 10],
    [Number.NaN, 10],
    [2, -1],
    [2, Number.NaN],
  ])('refuses a diameter of %s in and a length of %s ft, and says why', (diameter, length) => {
    const refusal = cylinderVolumeMl(diameter, length);
    expect(isRefusal(refusal) && refusal.refused).toMatch(/: give/);
  });
});

describe('minimum purge volume (US EPA Region 1, SOP GW 0001, Rev. 2, 1996, p. 6 of 13)', () => {
  const given = { casingInsideDiameterIn: 2, drawdownFt: 0.25, tubingInsideDiameterIn: 0.25, tubingLengthFt: 60 };

  // Computed: 0.154 L, 0.579 L, 0.734 L, 3.67 min at 200 mL/min.
  it('is 0.154 L of drawdown and 0.579 L of tubing, 0.734 L together, 3.67 min at 200 mL/min', () => {
    const volume = minimumPurgeVolume(given);
    if (isRefusal(volume)) throw new Error(volume.refused);
    expect(volume.drawdownMl / 1_000).toBeCloseTo(0.154, 3);
    expect(volume.tubingMl / 1_000).toBeCloseTo(0.579, 3);
    expect(volume.requiredMl / 1_000).toBeCloseTo(0.734, 3);
    expect(volume.requiredMl / 200).toBeCloseTo(3.67, 2);
  });

  it('adds nothing for a level that rose', () => {
    expect(minimumPurgeVolume({ ...given, drawdownFt: -0.1 })).toMatchObject({ drawdownMl: 0 });
  });

  it('refuses what is no casing or no tubing', () => {
    expect(minimumPurgeVolume({ ...given, casingInsideDiameterIn: 0 })).toHaveProperty('refused');
    expect(minimumPurgeVolume({ ...given, tubingInsideDiameterIn: 0 })).toHaveProperty('refused');
  });
});
