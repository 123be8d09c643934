import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isRefusal, type Refusal } from '../../../src/science/refusal.ts';
import { type PumpInWell, type RiseByPump, riseByPump } from '../../../src/science/well/rise-by-pump.ts';

const given: PumpInWell = {
  casingInsideDiameterIn: 2.067,
  pumpDiameterIn: 1.5,
  pumpLengthFt: 2,
  lineOutsideDiametersIn: [],
  pumpTopBelowWaterFt: 10,
};
const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a number');

function rise(result: RiseByPump | Refusal): RiseByPump {
  if (isRefusal(result)) throw new Error(result.refused);
  return result;
}

describe('the lift of the water by the pump going in', () => {
  // Computed: 1.5^2 x 2.0 / 2.067^2 = 1.053 ft.
  it('is about 1.05 ft for a pump of 1.5 in and 2.0 ft in a casing of 2.067 in', () => {
    expect(rise(riseByPump(given)).riseFt).toBeCloseTo(1.053, 3);
    expect(rise(riseByPump(given)).displacedMl).toBeCloseTo((Math.PI / 4) * (1.5 * 2.54) ** 2 * 2 * 30.48, 6);
  });

  it('is three and a half times the usual drawdown target of 0.3 ft', () => {
    expect(rise(riseByPump(given)).riseFt / 0.3).toBeGreaterThan(3.5);
  });

  it('is less in a wider casing, by the square', () => {
    const wide = rise(riseByPump({ ...given, casingInsideDiameterIn: 4.026 })).riseFt;
    expect(wide).toBeCloseTo(1.053 * (2.067 / 4.026) ** 2, 3);
  });

  // Second way of computing: fill the well in thin slices until the water that was displaced has found its place.
  it('with lines agrees with a balance of water in thin slices', () => {
    const line = fc.double({ min: 0, max: 0.5, noNaN: true });
    fc.assert(
      fc.property(line, line, fc.double({ min: 0, max: 50, noNaN: true }), (water, air, depth) => {
        const lines = [water, air];
        const { riseFt } = rise(riseByPump({ ...given, lineOutsideDiametersIn: lines, pumpTopBelowWaterFt: depth }));
        const solid = lines.reduce((sum, one) => sum + one ** 2, 0);
        let balance = 0;
        for (let pass = 0; pass < 200; pass += 1)
          balance = (given.pumpDiameterIn ** 2 * given.pumpLengthFt + solid * (depth + balance)) / 2.067 ** 2;
        expect(riseFt).toBeCloseTo(balance, 6);
        expect(riseFt).toBeGreaterThanOrEqual(1.053);
      }),
    );
  });

  it.each([
    [{ pumpDiameterIn: 2.067 }, 'does not go into'],
    [{ pumpDiameterIn: 0 }, 'holds nothing'],
    [{ pumpLengthFt: -1 }, 'no length'],
    [{ lineOutsideDiametersIn: [1.5, 1.5] }, 'Lines of 1.5, 1.5 in do not go into'],
    [{ lineOutsideDiametersIn: [0.25, -0.1] }, 'line diameter'],
    [{ pumpTopBelowWaterFt: -0.1 }, 'depth of the pump below the water'],
    [{ casingInsideDiameterIn: Number.NaN }, 'holds nothing'],
  ])('refuses %j', (part, reason) => {
    expect(why(riseByPump({ ...given, ...part }))).toContain(reason);
  });
});
