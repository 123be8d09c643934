import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cylinderVolumeMl } from '../../../src/science/cylinder-volume.ts';
import { standardPressureMmHg } from '../../../src/science/oxygen/standard-atmosphere.ts';
import { batteryLifeH } from '../../../src/science/pump/battery-life.ts';
import { cylinderCycles } from '../../../src/science/pump/cylinder-life.ts';
import { hydrostaticDrivePressure } from '../../../src/science/pump/drive-pressure.ts';
import { firstWater } from '../../../src/science/pump/first-water.ts';
import { gasPerCycleMl } from '../../../src/science/pump/gas-per-cycle.ts';
import { pumpClearanceIn } from '../../../src/science/pump/pump-clearance.ts';
import { wasteWater } from '../../../src/science/pump/waste-water.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave an answer');

function given<T>(result: T): Exclude<T, { refused: string }> {
  if (isRefusal(result)) throw new Error(result.refused);
  return result as Exclude<T, { refused: string }>;
}

function space(depthFt: number, airLineIn: number) {
  const drivePsi = Number(given(hydrostaticDrivePressure(String(depthFt), '10')).fromPsi);
  return { airLineMl: given(cylinderVolumeMl(airLineIn, depthFt)), chamberMl: 150, drivePsi };
}

describe('gas that a bladder pump vents', () => {
  // Computed at sea level: 150 mL chamber, 10 psi allowance, 4 cycles a minute; litres a cycle, litres a minute, scfm.
  it.each([
    [50, 0.17, 0.223, 0.8, 3.2, 0.11],
    [100, 0.17, 0.446, 2.16, 8.7, 0.31],
    [50, 0.25, 0.483, 1.36, 5.5, 0.19],
    [200, 0.25, 1.931, 13.69, 54.8, 1.93],
  ])('at %d ft with an air line of %f in', (depthFt, airLineIn, lineL, perCycleL, perMinL, cubicFeetPerMin) => {
    const gas = space(depthFt, airLineIn);
    const litres = given(gasPerCycleMl(gas, 760)) / 1_000;
    expect(Math.abs(gas.airLineMl / 1_000 - lineL)).toBeLessThan(0.0006);
    expect(Math.abs(litres - perCycleL)).toBeLessThan(0.006);
    expect(Math.abs(4 * litres - perMinL)).toBeLessThan(0.06);
    expect(Math.abs((4 * litres) / 28.316846592 - cubicFeetPerMin)).toBeLessThan(0.006);
  });

  // Second way: p V = const. from absolute pressure at the drive to the air around, less what stays in the line.
  it('is what Boyle leaves over when the line falls from drive pressure to the air', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 3_000, noNaN: true }),
        fc.double({ min: 1, max: 150, noNaN: true }),
        fc.double({ min: 400, max: 800, noNaN: true }),
        (airLineMl, drivePsi, mmHg) => {
          const airPsi = (mmHg / 760) * 14.695949;
          const boyle = (airLineMl * (drivePsi + airPsi)) / airPsi - airLineMl;
          expect(given(gasPerCycleMl({ airLineMl, chamberMl: 0, drivePsi }, mmHg)) / boyle).toBeCloseTo(1, 5);
        },
      ),
    );
  });

  it('is more at altitude, by the ratio of the pressures of the air', () => {
    const high = given(standardPressureMmHg(5_000 * 0.3048));
    const gas = space(50, 0.17);
    expect(given(gasPerCycleMl(gas, high)) / given(gasPerCycleMl(gas, 760))).toBeCloseTo(760 / high, 10);
  });

  it('and a cylinder lasts as many cycles as its usable gas fills line and chamber', () => {
    const gas = { airLineMl: 223.2, chamberMl: 150, drivePsi: 31.7 };
    const cylinder = { cylinderL: 10, cylinderPsi: 2_000, regulatorPsi: 100 };
    expect(cylinderCycles(cylinder, gas)).toBe(1_606);
    // Second way: free gas of the cylinder above the pressure of the regulator over free gas of a cycle.
    const free = (10_000 * 1_900) / 14.695949;
    expect(given(cylinderCycles(cylinder, gas))).toBe(Math.floor(free / given(gasPerCycleMl(gas, 760))));
    expect(cylinderCycles({ ...cylinder, cylinderPsi: 90 }, gas)).toBe(0);
  });

  it('so that a deeper pump empties a cylinder in fewer cycles', () => {
    const cylinder = { cylinderL: 10, cylinderPsi: 2_000, regulatorPsi: 150 };
    const cycles = [50, 100, 150, 200].map((depth) => given(cylinderCycles(cylinder, space(depth, 0.17))));
    expect(cycles).toEqual(cycles.toSorted((a, b) => b - a));
    expect(new Set(cycles).size).toBe(4);
  });

  const gas = space(50, 0.17);
  it.each([
    [gasPerCycleMl({ ...gas, drivePsi: 0 }, 760), 'use no gas'],
    [gasPerCycleMl({ ...gas, airLineMl: -1 }, 760), 'use no gas'],
    [gasPerCycleMl({ ...gas, chamberMl: -1 }, 760), 'use no gas'],
    [gasPerCycleMl({ airLineMl: 0, chamberMl: 0, drivePsi: 30 }, 760), 'use no gas'],
    [gasPerCycleMl(gas, 29.92), 'outside 380 to 836'],
    [cylinderCycles({ cylinderL: 10, cylinderPsi: 2_000, regulatorPsi: 20 }, gas), 'does not drive'],
    [cylinderCycles({ cylinderL: 0, cylinderPsi: 2_000, regulatorPsi: 100 }, gas), 'does not drive'],
    [cylinderCycles({ cylinderL: 10, cylinderPsi: -1, regulatorPsi: 100 }, gas), 'does not drive'],
    [cylinderCycles({ cylinderL: 10, cylinderPsi: 2_000, regulatorPsi: 100 }, { ...gas, drivePsi: -1 }), 'use no gas'],
  ])('is not computed from nothing', (result, reason) => {
    expect(why(result)).toContain(reason);
  });
});

describe('a battery', () => {
  it('of 35 Ah, half of it usable, lasts 2.5 h at 7 A', () => {
    expect(batteryLifeH({ capacityAh: 35, usablePercent: 50, drawA: 7 })).toBe(2.5);
  });

  it('lasts longer the larger and less the harder it is drawn', () => {
    const amount = fc.double({ min: 0.1, max: 100, noNaN: true });
    fc.assert(
      fc.property(amount, amount, amount, (capacityAh, usablePercent, drawA) => {
        const life = given(batteryLifeH({ capacityAh, usablePercent, drawA }));
        expect(given(batteryLifeH({ capacityAh: capacityAh * 2, usablePercent, drawA }))).toBeCloseTo(2 * life, 6);
        expect(given(batteryLifeH({ capacityAh, usablePercent, drawA: drawA * 2 }))).toBeLessThan(life);
      }),
    );
  });

  it.each([[{ capacityAh: 0 }], [{ drawA: 0 }], [{ usablePercent: 0 }], [{ usablePercent: 101 }]])(
    'is not guessed from %j',
    (part) => {
      expect(why(batteryLifeH({ capacityAh: 35, usablePercent: 50, drawA: 7, ...part }))).toContain('Ah');
    },
  );
});

describe('water', () => {
  // Computed: 30 ft of 0.17 in are 133.9 mL, at 200 mL/min 0.67 min.
  it('comes first when what is empty of the line is filled', () => {
    const emptyMl = given(cylinderVolumeMl(0.17, 30));
    const water = given(firstWater({ emptyMl, wholeMl: 400, flowMlPerMin: 200 }));
    expect(water.soonestMin).toBeCloseTo(0.67, 2);
    expect(water.latestMin).toBe(2);
  });

  it('never comes later than latest, and sooner with more flow', () => {
    const ml = fc.double({ min: 1, max: 1_000, noNaN: true });
    fc.assert(
      fc.property(ml, ml, ml, (emptyMl, more, flowMlPerMin) => {
        const water = given(firstWater({ emptyMl, wholeMl: emptyMl + more, flowMlPerMin }));
        expect(water.soonestMin).toBeLessThanOrEqual(water.latestMin);
        const faster = given(firstWater({ emptyMl, wholeMl: emptyMl + more, flowMlPerMin: flowMlPerMin * 2 }));
        expect(faster.latestMin).toBeLessThan(water.latestMin);
      }),
    );
  });

  it('fills drums, the last one only in part', () => {
    const round = { flowMlPerMin: 200, purgeMin: 60, deconL: 8 };
    expect(wasteWater({ ...round, drumUsableL: 180 })).toEqual({ wasteL: 20, drums: 1 });
    expect(wasteWater({ ...round, drumUsableL: 20 })).toEqual({ wasteL: 20, drums: 1 });
    expect(wasteWater({ ...round, drumUsableL: 19.9 })).toEqual({ wasteL: 20, drums: 2 });
    expect(wasteWater(round)).toEqual({ wasteL: 20, drums: null });
  });

  it.each([
    [firstWater({ emptyMl: 1, wholeMl: 2, flowMlPerMin: 0 }), 'no water comes'],
    [firstWater({ emptyMl: 3, wholeMl: 2, flowMlPerMin: 100 }), 'from the pump on'],
    [firstWater({ emptyMl: -1, wholeMl: 2, flowMlPerMin: 100 }), 'from the pump on'],
    [wasteWater({ flowMlPerMin: 200, purgeMin: -1, deconL: 0 }), '0 or more'],
    [wasteWater({ flowMlPerMin: -1, purgeMin: 1, deconL: 0 }), '0 or more'],
    [wasteWater({ flowMlPerMin: 200, purgeMin: 1, deconL: Number.NaN }), '0 or more'],
    [wasteWater({ flowMlPerMin: 200, purgeMin: 60, deconL: 0, drumUsableL: 0 }), 'takes no water'],
  ])('is not computed from nothing', (result, reason) => {
    expect(why(result)).toContain(reason);
  });
});

describe('the room around a pump', () => {
  it('is exact', () => {
    expect(pumpClearanceIn('2.067', '1.66')).toBe('0.407');
    expect(pumpClearanceIn('1.5', '1.50')).toBe('0.00');
    expect(pumpClearanceIn('1.5', '1.66')).toBe('-0.16');
  });

  it.each([
    ['2.067', '0', 'above 0'],
    ['0', '1.66', 'above 0'],
    ['2 in', '1.66', 'no plain decimal'],
  ])('refuses %s in and %s in', (casing, pump, reason) => {
    expect(why(pumpClearanceIn(casing, pump))).toContain(reason);
  });
});
