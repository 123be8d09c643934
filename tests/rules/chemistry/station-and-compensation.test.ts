import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { COMPENSATION_METHODS, compensationFactor } from '../../../src/rules/chemistry/compensation.ts';
import { altitudeInMetres, statedPressureMmHg, stationAir } from '../../../src/rules/chemistry/station-air.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave an answer');

describe('the air at the station', () => {
  it.each([
    [{ stationPressureMmHg: '700' }, 700, 'barometer'],
    [{ stationPressureHpa: '933.257' }, 700, 'barometer'],
    [{ stationPressureInHg: '27.559' }, 700, 'barometer'],
    [{ altitudeFt: '5000' }, 632.4, 'altitude'],
    [{ altitudeM: '1524' }, 632.4, 'altitude'],
    [{ stationPressureMmHg: '640', altitudeFt: '5000' }, 640, 'barometer'],
  ] as const)('%j is %s mmHg by %s', (given, mmHg, from) => {
    const air = stationAir(given);
    if (air === null || isRefusal(air)) throw new Error(why(air));
    expect(air.mmHg).toBeCloseTo(mmHg, 1);
    expect(air.from).toBe(from);
  });

  it('is unknown where nothing is given', () => {
    expect(stationAir({})).toBeNull();
    expect(altitudeInMetres({})).toBeNull();
    expect(statedPressureMmHg({ altitudeFt: '5000' })).toBeNull();
  });

  it.each([
    [stationAir({ stationPressureMmHg: '700', stationPressureHpa: '933' }), 'mmHg and hPa'],
    [stationAir({ altitudeFt: '5000', altitudeM: '1524' }), 'ft and m'],
    [stationAir({ stationPressureMmHg: '1013' }), '1013 mmHg'],
    [stationAir({ altitudeFt: '60000' }), 'outside -500 to 5,000 m'],
    [stationAir({ stationPressureMmHg: 'low' }), '"low"'],
  ])('is refused where it is told twice or cannot be: %#', (result, says) => {
    expect(why(result)).toContain(says);
  });
});

describe('compensation of conductance', () => {
  // ISO 7888 table and computed linear factors; 500 µS/cm raw at 10 °C.
  it.each([
    ['alpha-0191', '10', 700.8],
    ['alpha-0200', '10', 714.3],
    ['natural-water', '10', 714.0],
  ] as const)('by %s at %s °C makes 500 µS/cm %s', (method, celsius, at25) => {
    expect(500 * Number(compensationFactor(method, celsius))).toBeCloseTo(at25, 1);
  });

  it('moves a reading at 10 °C by 1.9 % by the choice alone', () => {
    const ratio = Number(compensationFactor('alpha-0200', '10')) / Number(compensationFactor('alpha-0191', '10'));
    expect(100 * (ratio - 1)).toBeCloseTo(1.9, 1);
  });

  it('takes natural water from the table below 5 °C, where the closed form is 0.008 low', () => {
    expect(compensationFactor('natural-water', '0')).toBe(1.918);
    expect(compensationFactor('natural-water', '2.5')).toBeCloseTo(1.7725, 9);
    expect(compensationFactor('natural-water', '35')).toBe(0.822);
  });

  it('goes on by the closed form to 35.9 °C, without a jump where the table ends', () => {
    const beyond = Number(compensationFactor('natural-water', '35.5'));
    expect(beyond).toBeLessThan(0.822);
    expect(beyond).toBeGreaterThan(0.81);
    expect(why(compensationFactor('natural-water', '36'))).toContain('5 to 35.9');
    expect(why(compensationFactor('natural-water', '-1'))).toContain('5 to 35.9');
    expect(why(compensationFactor('alpha-0200', '41'))).toContain('41 °C');
  });

  it('is 1 at 25 °C by every method, and less in warmer water', () => {
    const tenths = fc.integer({ min: 0, max: 340 });
    fc.assert(
      fc.property(fc.constantFrom(...COMPENSATION_METHODS), tenths, (method, at) => {
        expect(compensationFactor(method, '25')).toBeCloseTo(1, 9);
        const [cold, warm] = [
          compensationFactor(method, String(at / 10)),
          compensationFactor(method, String(at / 10 + 1)),
        ];
        expect(Number(warm)).toBeLessThan(Number(cold));
      }),
    );
  });
});
