import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgedPressure } from '../../../src/science/oxygen/pressure-kind.ts';
import { standardPressureMmHg } from '../../../src/science/oxygen/standard-atmosphere.ts';
import { stationFromSeaLevelMmHg } from '../../../src/science/oxygen/station-pressure.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const FT = 0.3048;
function pressureKind(mmHg: number, altitudeM: number) {
  const judged = judgedPressure(mmHg, altitudeM);
  return isRefusal(judged) ? judged : judged.kind;
}

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a number');

describe('the standard atmosphere', () => {
  // ISO 2533:1975, computed.
  it.each([
    [0, 760.0],
    [1_000, 732.9],
    [2_000, 706.7],
    [5_000, 632.4],
    [6_000, 609.0],
    [8_000, 564.5],
    [10_000, 522.7],
  ])('has at %s ft %s mmHg', (feet, mmHg) => {
    expect(standardPressureMmHg(feet * FT)).toBeCloseTo(mmHg, 1);
  });

  // Second way: a column of air in thin slices, 288.15 K less 6.5 K per km, each held up by the pressure below it.
  it('is what a column of air in thin slices weighs', () => {
    let pressure = 760;
    const slice = 1;
    for (let metre = 0; metre < 3_000; metre += slice) {
      const kelvin = 288.15 - 0.0065 * (metre + slice / 2);
      pressure *= Math.exp((-9.80665 * 0.0289644 * slice) / (8.31432 * kelvin));
    }
    expect(standardPressureMmHg(3_000)).toBeCloseTo(pressure, 1);
  });

  it.each([[-501], [5_001], [Number.NaN]])('refuses an altitude of %s m', (altitude) => {
    expect(why(standardPressureMmHg(altitude))).toContain('outside -500 to 5,000 m');
  });
});

describe('a pressure reduced to sea level', () => {
  it('is 636.5 mmHg at the station where 765 is reported at 5,000 ft', () => {
    expect(stationFromSeaLevelMmHg(765, 1_524)).toBeCloseTo(636.5, 1);
  });

  it('is the pressure of the station at sea level, and less the higher the station', () => {
    expect(stationFromSeaLevelMmHg(751, 0)).toBe(751);
    fc.assert(
      fc.property(fc.double({ min: -500, max: 4_900, noNaN: true }), (altitude) => {
        expect(stationFromSeaLevelMmHg(755, altitude + 100)).toBeLessThan(
          Number(stationFromSeaLevelMmHg(755, altitude)),
        );
      }),
    );
  });

  it.each([
    [760, 5_000, 'reduced-to-sea-level'],
    [632, 5_000, 'station'],
    [650, 5_000, 'station'],
    [700, 5_000, 'not-believable'],
    [745, 1_000, 'cannot-tell'],
    [712, 1_000, 'station'],
    [756, 100, 'low-ground'],
    [800, 100, 'not-believable'],
    [770, 3_000, 'reduced-to-sea-level'],
  ] as const)('%s mmHg at %s ft: %s', (mmHg, feet, kind) => {
    expect(pressureKind(mmHg, feet * FT)).toBe(kind);
  });

  it('is always told from that of the station above 2,000 ft, in any ordinary weather', () => {
    const weather = fc.double({ min: -0.03, max: 0.03, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: 610, max: 5_000, noNaN: true }), weather, (altitude, off) => {
        const seaLevel = 760 * (1 + off);
        expect(pressureKind(seaLevel, altitude)).not.toBe('station');
        if (altitude > 1_000) expect(pressureKind(seaLevel, altitude)).toBe('reduced-to-sea-level');
      }),
    );
  });

  it.each([
    [pressureKind(30, 100), '30 mmHg'],
    [pressureKind(760, 9_000), '9000 m'],
    [stationFromSeaLevelMmHg(1013, 100), '1013 mmHg'],
    [stationFromSeaLevelMmHg(760, 9_000), '9000 m'],
  ])('refuses what is no pressure or no place: %#', (result, says) => {
    expect(why(result)).toContain(says);
  });
});
