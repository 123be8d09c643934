import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isRefusal } from '../../../src/science/refusal.ts';
import { frictionLoss } from '../../../src/science/tubing/friction-loss.ts';
import { lineLengths } from '../../../src/science/tubing/line-lengths.ts';
import { outsideOverstates } from '../../../src/science/tubing/outside-for-inside.ts';
import { systemVolume } from '../../../src/science/tubing/system-volume.ts';
import { waterViscosityMPaS } from '../../../src/science/tubing/water-viscosity.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave an answer');

function given<T>(result: T): Exclude<T, { refused: string }> {
  if (isRefusal(result)) throw new Error(result.refused);
  return result as Exclude<T, { refused: string }>;
}

describe('the outside diameter taken for the inside one', () => {
  // Computed: tubing of 1/4 in outside is often 0.170 in inside.
  it('makes a volume 2.16 times too large for 1/4-in tubing of 0.170 in', () => {
    expect(given(outsideOverstates(0.25, 0.17))).toBeCloseTo(2.16, 2);
  });

  it('is the ratio of the two volumes', () => {
    const volume = (tubingInsideDiameterIn: number) =>
      given(systemVolume({ pumpMl: 0, tubingInsideDiameterIn, tubingLengthFt: 60, flowCellMl: 0 })).tubingMl;
    expect(volume(0.25) / volume(0.17)).toBeCloseTo(given(outsideOverstates(0.25, 0.17)), 10);
  });

  it.each([
    [0.25, 0.25],
    [0.17, 0.25],
    [0.25, 0],
    [Number.POSITIVE_INFINITY, 0.17],
  ])('refuses %f in outside and %f in inside: no wall', (outside, inside) => {
    expect(why(outsideOverstates(outside, inside))).toContain('no wall');
  });
});

describe('lengths of the lines', () => {
  it('adds what each needs at the surface, exactly', () => {
    expect(lineLengths({ pumpDepthFt: '50.10', waterLineAtSurfaceFt: '6.2', airLineAtSurfaceFt: '4' })).toEqual({
      waterLineFt: '56.30',
      airLineFt: '54.10',
    });
  });

  // Common practice, no source: the water line is left longer than the air line.
  it('always leaves the water line longer, by what it is longer at the surface', () => {
    const tenths = fc.integer({ min: 1, max: 999 }).map((count) => (count / 10).toFixed(1));
    fc.assert(
      fc.property(tenths, tenths, tenths, (pumpDepthFt, waterLineAtSurfaceFt, airLineAtSurfaceFt) => {
        const lines = lineLengths({ pumpDepthFt, waterLineAtSurfaceFt, airLineAtSurfaceFt });
        const longer = Number(waterLineAtSurfaceFt) > Number(airLineAtSurfaceFt);
        expect(isRefusal(lines)).toBe(!longer);
        if (!isRefusal(lines)) expect(Number(lines.waterLineFt)).toBeGreaterThan(Number(lines.airLineFt));
      }),
    );
  });

  it.each([
    [{ waterLineAtSurfaceFt: '4.0' }, 'not longer'],
    [{ pumpDepthFt: '0' }, 'no length of line'],
    [{ airLineAtSurfaceFt: '-1' }, 'no length of line'],
    [{ pumpDepthFt: '50 ft' }, 'no plain decimal'],
  ])('refuses %j', (part, reason) => {
    const base = { pumpDepthFt: '50', waterLineAtSurfaceFt: '6', airLineAtSurfaceFt: '4' };
    expect(why(lineLengths({ ...base, ...part }))).toContain(reason);
  });
});

describe('the volume of pump, line and cell', () => {
  // Computed, V = pi / 4 D^2 L: mL a foot.
  it.each([
    [0.125, 2.413],
    [0.17, 4.463],
    [0.1875, 5.43],
    [0.25, 9.653],
    [0.375, 21.72],
    [0.5, 38.61],
  ])('counts tubing of %f in as %f mL a foot', (tubingInsideDiameterIn, mlPerFt) => {
    const { tubingMl } = given(systemVolume({ pumpMl: 0, tubingInsideDiameterIn, tubingLengthFt: 1, flowCellMl: 0 }));
    expect(Math.abs(tubingMl / mlPerFt - 1)).toBeLessThan(5e-4);
  });

  // Florida DEP FS 2200, from memory: P + 0.041 D^2 L + fc gallons; the exact constant is 0.0408.
  it('agrees with the rounded constant of Florida to half a percent, and with 0.0408 to a ten-thousandth', () => {
    const { tubingMl } = given(
      systemVolume({ pumpMl: 0, tubingInsideDiameterIn: 0.25, tubingLengthFt: 60, flowCellMl: 0 }),
    );
    const gallons = tubingMl / 3_785.411784;
    expect(Math.abs((0.041 * 0.25 ** 2 * 60) / gallons - 1)).toBeLessThan(0.005);
    expect(Math.abs((0.0408 * 0.25 ** 2 * 60) / gallons - 1)).toBeLessThan(1e-4);
  });

  it('is the sum of its parts', () => {
    const part = fc.double({ min: 0, max: 1_000, noNaN: true });
    fc.assert(
      fc.property(part, part, part, (pumpMl, flowCellMl, tubingLengthFt) => {
        const volume = given(systemVolume({ pumpMl, tubingInsideDiameterIn: 0.17, tubingLengthFt, flowCellMl }));
        expect(volume.systemMl).toBeCloseTo(pumpMl + volume.tubingMl + flowCellMl, 8);
      }),
    );
  });

  it.each([[{ pumpMl: -1 }], [{ flowCellMl: Number.NaN }], [{ tubingInsideDiameterIn: 0 }], [{ tubingLengthFt: -1 }]])(
    'refuses %j',
    (part) => {
      const base = { pumpMl: 1, tubingInsideDiameterIn: 0.17, tubingLengthFt: 50, flowCellMl: 1 };
      expect(isRefusal(systemVolume({ ...base, ...part }))).toBe(true);
    },
  );
});

describe('friction in a line', () => {
  // Handbook viscosities of water in mPa s (from memory): 1.792, 1.306, 1.002, 0.890, 0.797, 0.653.
  it.each([
    [0, 1.792],
    [10, 1.306],
    [20, 1.002],
    [25, 0.89],
    [30, 0.797],
    [40, 0.653],
  ])('takes the viscosity at %d °C as %f mPa s', (celsius, viscosity) => {
    expect(Math.abs(given(waterViscosityMPaS(celsius)) / viscosity - 1)).toBeLessThan(2e-3);
  });

  const line = { insideDiameterIn: 0.17, lengthFt: 50, flowMlPerMin: 500, waterTemperatureC: 10 };

  // Second way: Darcy and Weisbach with the friction factor of laminar flow, f = 64 / Re.
  it('agrees with Darcy-Weisbach at f = 64 / Re, and at Blasius where it is no longer laminar', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 0.5, noNaN: true }),
        fc.double({ min: 10, max: 3_000, noNaN: true }),
        (insideDiameterIn, flowMlPerMin) => {
          const loss = given(frictionLoss({ ...line, insideDiameterIn, flowMlPerMin }));
          const laminar = 64 / loss.reynolds;
          const factor = loss.reynolds < 2_000 ? laminar : Math.max(laminar, 0.316 / loss.reynolds ** 0.25);
          const diameterM = insideDiameterIn * 0.0254;
          const speed = flowMlPerMin / 60e6 / ((Math.PI / 4) * diameterM ** 2);
          const pa = (factor * (15.24 / diameterM) * 999.7 * speed ** 2) / 2;
          expect(loss.lossPsi / (pa / 6_894.757)).toBeCloseTo(1, 3);
        },
      ),
    );
  });

  it('grows with length and flow, and by the fourth power in a narrower line', () => {
    const { lossPsi } = given(frictionLoss({ ...line, flowMlPerMin: 200 }));
    expect(given(frictionLoss({ ...line, flowMlPerMin: 200, lengthFt: 100 })).lossPsi).toBeCloseTo(2 * lossPsi, 8);
    expect(given(frictionLoss({ ...line, flowMlPerMin: 100 })).lossPsi).toBeCloseTo(lossPsi / 2, 8);
    const narrow = given(frictionLoss({ ...line, flowMlPerMin: 200, insideDiameterIn: 0.085 })).lossPsi;
    expect(narrow).toBeCloseTo(16 * lossPsi, 8);
  });

  // By hand: 128 x 1.306e-3 x 15.24 x 8.333e-6 / (pi x 0.004318^4) = 19.4 kPa.
  it('is 2.82 psi for 50 ft of 0.17 in at 500 mL/min, well within the usual allowance of 10 psi', () => {
    expect(given(frictionLoss(line)).lossPsi).toBeCloseTo(2.82, 2);
  });

  it('never falls as the flow grows', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 2_000, noNaN: true }), (flowMlPerMin) => {
        const loss = (flow: number) => given(frictionLoss({ ...line, flowMlPerMin: flow })).lossPsi;
        expect(loss(flowMlPerMin * 1.01)).toBeGreaterThan(loss(flowMlPerMin));
      }),
    );
  });

  it.each([
    [{ flowMlPerMin: 100_000 }, 'outside the formula'],
    [{ insideDiameterIn: 0 }, 'diameter above 0'],
    [{ lengthFt: -1 }, 'length and flow'],
    [{ flowMlPerMin: Number.NaN }, 'length and flow'],
    [{ waterTemperatureC: 41 }, 'outside 0 to 40'],
    [{ waterTemperatureC: 101 }, 'outside 0 to 100'],
    [{ waterTemperatureC: -1 }, 'outside 0 to 100'],
  ])('refuses %j', (part, reason) => {
    expect(why(frictionLoss({ ...line, ...part }))).toContain(reason);
  });
});
