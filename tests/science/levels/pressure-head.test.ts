import { execFileSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flowingDepthToWaterFt, pressureHeadFt } from '../../../src/science/levels/pressure-head.ts';
import { waterDensityKgPerM3 } from '../../../src/science/levels/water-density.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a number');

/** Debian's seawater library, where the machine has it. */
function seawaterDensities(temperatures: readonly number[]): number[] | null {
  const program = `import gsw\nfor t in ${JSON.stringify(temperatures)}: print(gsw.rho_t_exact(0, t, 0))`;
  try {
    const out = execFileSync('/usr/bin/python3', ['-c', program], { stdio: ['ignore', 'pipe', 'ignore'] });
    return String(out).trim().split('\n').map(Number);
  } catch {
    return null;
  }
}

const TEMPERATURES = [0, 4, 10, 15, 20, 25, 30, 40];
const reference = seawaterDensities(TEMPERATURES);

describe('density of fresh water', () => {
  // Density of water at 1 atm as tabulated in handbooks (CRC Handbook of Chemistry and Physics, from memory).
  it.each([
    [0, 999.8426],
    [4, 999.9749],
    [10, 999.7026],
    [15, 999.1026],
    [20, 998.2071],
    [25, 997.0479],
    [30, 995.6502],
  ])('at %s °C is %s kg/m³', (temperature, density) => {
    expect(Math.abs(Number(waterDensityKgPerM3(temperature)) - density)).toBeLessThan(0.002);
  });

  it.skipIf(reference === null)('agrees with a seawater library at no salt', () => {
    TEMPERATURES.forEach((temperature, at) => {
      expect(Math.abs(Number(waterDensityKgPerM3(temperature)) - (reference?.[at] ?? Number.NaN))).toBeLessThan(0.005);
    });
  });

  it('is largest at 4 °C and falls to both sides', () => {
    const warm = fc.double({ min: 4, max: 40, noNaN: true });
    fc.assert(
      fc.property(warm, warm, (a, b) => {
        const [colder, warmer] = [
          Number(waterDensityKgPerM3(Math.min(a, b))),
          Number(waterDensityKgPerM3(Math.max(a, b))),
        ];
        expect(warmer).toBeLessThanOrEqual(colder);
      }),
    );
    expect(Number(waterDensityKgPerM3(0))).toBeLessThan(Number(waterDensityKgPerM3(4)));
  });

  it.each([-0.1, 40.1, Number.NaN])('refuses %s °C', (temperature) => {
    expect(why(waterDensityKgPerM3(temperature))).toContain('outside 0 to 40');
  });
});

describe('head of a gauge pressure', () => {
  // Computed from density: psi that a foot of water carries.
  it.each([
    [4, 0.43352],
    [10, 0.4334],
    [15, 0.43314],
    [20, 0.43275],
    [25, 0.43225],
  ])('at %s °C is 1 ft for %s psi', (temperature, psiPerFt) => {
    expect(1 / Number(pressureHeadFt(1, temperature))).toBeCloseTo(psiPerFt, 5);
  });

  it('of 5.0 psi at 10 °C is 11.54 ft', () => {
    expect(Number(pressureHeadFt(5, 10)).toFixed(2)).toBe('11.54');
  });

  it('is 2.3067 ft for 1 psi at 4 °C and 2.3108 ft at 20 °C', () => {
    expect(Number(pressureHeadFt(1, 4))).toBeCloseTo(2.3067, 4);
    expect(Number(pressureHeadFt(1, 20))).toBeCloseTo(2.3108, 4);
  });

  it('is 1 m for 9.8037 kPa at 10 °C, by a second way', () => {
    expect(Number(pressureHeadFt(9.8037 / 6.894757, 10)) * 0.3048).toBeCloseTo(1, 4);
  });

  // A table of practical lifts on the web pairs 7,920 ft of altitude with 10.88 psi and a head of 24.13 ft, which do not
  // belong together: 10.88 psi are 25.1 ft.
  it('of 10.88 psi is 25.1 ft, not the 24.13 ft of a table of suction heads', () => {
    expect(Number(pressureHeadFt(10.88, 10)).toFixed(1)).toBe('25.1');
    expect(Math.abs(Number(pressureHeadFt(10.88, 10)) - 24.13)).toBeGreaterThan(0.9);
  });

  it('refuses a gauge that pulls, and water that is none', () => {
    expect(why(pressureHeadFt(-0.1, 10))).toContain('carries no water');
    expect(why(pressureHeadFt(Number.NaN, 10))).toContain('carries no water');
    expect(why(pressureHeadFt(5, 50))).toContain('outside');
  });
});

describe('level of a flowing well', () => {
  const given = { gaugePressurePsi: 5, waterTemperatureC: 10, gaugeAboveMeasuringPointFt: 0.5 };

  it('is above the measuring point by the head and the height of the gauge', () => {
    expect(Number(flowingDepthToWaterFt(given)).toFixed(2)).toBe('-12.04');
    expect(Number(flowingDepthToWaterFt({ ...given, gaugeAboveMeasuringPointFt: -0.5 })).toFixed(2)).toBe('-11.04');
    expect(Number(flowingDepthToWaterFt({ ...given, gaugePressurePsi: 0 }))).toBe(-0.5);
  });

  it('rises in step with the pressure', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 100, noNaN: true }), (psi) => {
        const twice = Number(pressureHeadFt(2 * psi, 10));
        expect(twice).toBeCloseTo(2 * Number(pressureHeadFt(psi, 10)), 8);
      }),
    );
  });

  it('is refused without a place for the gauge, or a pressure', () => {
    expect(why(flowingDepthToWaterFt({ ...given, gaugeAboveMeasuringPointFt: Number.NaN }))).toContain('has no place');
    expect(why(flowingDepthToWaterFt({ ...given, gaugePressurePsi: -1 }))).toContain('carries no water');
  });
});
