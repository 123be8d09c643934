import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PRACTICAL_SUCTION_LIFT } from '../../../src/catalog/pumps/practical-suction-lift.ts';
import { pressureHeadFt } from '../../../src/science/levels/pressure-head.ts';
import { isRefusal } from '../../../src/science/refusal.ts';
import { suctionLiftAtAltitudeFt, suctionLiftOfPhysicsFt } from '../../../src/science/suction/lift-of-physics.ts';
import { practicalLift } from '../../../src/science/suction/practical-lift.ts';
import { type SuctionLimit, suctionWithin } from '../../../src/science/suction/suction-limits.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave an answer');

function given<T>(result: T): Exclude<T, { refused: string }> {
  if (isRefusal(result)) throw new Error(result.refused);
  return result as Exclude<T, { refused: string }>;
}

describe('suction lift of physics', () => {
  // Computed from H = (P_air - P_vapour) / (rho g) in the standard atmosphere.
  it.each([
    [0, 33.5, 33.2, 32.6],
    [1_000, 32.3, 32.0, 31.4],
    [2_000, 31.1, 30.8, 30.2],
    [5_000, 27.8, 27.5, 26.9],
    [6_000, 26.8, 26.4, 25.9],
    [8_000, 24.8, 24.4, 23.9],
    [10_000, 22.9, 22.6, 22.0],
  ])('at %d ft is %f, %f and %f ft at 10, 20 and 30 °C', (altitudeFt, at10, at20, at30) => {
    const lift = (celsius: number) => given(suctionLiftAtAltitudeFt(altitudeFt, celsius));
    expect(Math.abs(lift(10) - at10)).toBeLessThan(0.06);
    expect(Math.abs(lift(20) - at20)).toBeLessThan(0.06);
    expect(Math.abs(lift(30) - at30)).toBeLessThan(0.06);
  });

  // Second way: the vapour pressure of water by the formula of Magnus and Tetens (from memory), and tabled densities.
  it.each([
    [10, 999.7],
    [20, 998.2],
    [30, 995.65],
  ])('at %d °C agrees with another vapour pressure', (celsius, density) => {
    const vapourPa = 610.94 * Math.exp((17.625 * celsius) / (celsius + 243.04));
    const lift = (101_325 - vapourPa) / (density * 9.80665) / 0.3048;
    expect(Math.abs(given(suctionLiftOfPhysicsFt(760, celsius)) - lift)).toBeLessThan(0.02);
  });

  it('falls with altitude and with warmth, and rises with the pressure of the air', () => {
    const altitude = fc.double({ min: 0, max: 15_000, noNaN: true });
    const celsius = fc.double({ min: 0, max: 39, noNaN: true });
    fc.assert(
      fc.property(altitude, celsius, (up, warm) => {
        const lift = given(suctionLiftAtAltitudeFt(up, warm));
        expect(given(suctionLiftAtAltitudeFt(up + 100, warm))).toBeLessThan(lift);
        expect(given(suctionLiftOfPhysicsFt(700, warm))).toBeLessThan(given(suctionLiftOfPhysicsFt(710, warm)));
        if (warm > 5) expect(given(suctionLiftAtAltitudeFt(up, warm + 1))).toBeLessThan(lift);
      }),
    );
  });

  it.each([
    [suctionLiftAtAltitudeFt(20_000, 10), 'altitude'],
    [suctionLiftOfPhysicsFt(101.3, 10), 'outside 380 to 836'],
    [suctionLiftOfPhysicsFt(760, 41), 'outside 0 to 40'],
    [suctionLiftOfPhysicsFt(760, Number.NaN), 'outside 0 to 40'],
  ])('refuses what it does not hold for', (result, reason) => {
    expect(why(result)).toContain(reason);
  });
});

describe('practical lift of the table', () => {
  const { lines } = PRACTICAL_SUCTION_LIFT;

  // engineeringtoolbox.com, page 1343.
  it.each([
    [0, 22],
    [1_320, 21],
    [2_640, 20],
    [3_960, 18],
    [5_280, 17],
    [6_600, 16],
    [7_920, 15],
    [10_560, 14],
    [5_000, 17],
    [1, 21],
    [-200, 22],
  ])('at %d ft is %d ft: between two lines the higher one counts', (altitudeFt, liftFt) => {
    expect(given(practicalLift(lines, altitudeFt)).liftFt).toBe(liftFt);
  });

  it('stays below physics at every line and temperature, and falls with altitude', () => {
    for (const [index, line] of lines.entries()) {
      expect(line.liftFt).toBeLessThan(given(suctionLiftAtAltitudeFt(line.altitudeFt, 40)));
      const before = lines[index - 1];
      if (before) expect(line.liftFt).toBeLessThan(before.liftFt);
    }
  });

  // The page prints 24.13 ft beside 10.88 psi at 7,920 ft: its own pressure carries 25.1 ft.
  it('disagrees with the misprinted head at 7,920 ft', () => {
    const carried = given(pressureHeadFt(10.88, 10));
    expect(carried).toBeCloseTo(25.1, 1);
    expect(Math.abs(carried - 24.13)).toBeGreaterThan(0.9);
    expect(lines.map((line) => line.liftFt as number)).not.toContain(24.13);
    // The air alone at that altitude, by ISO 2533, is nearer to the page's pressure than to its head.
    const air = given(suctionLiftAtAltitudeFt(7_920, 0.01));
    expect(Math.abs(air - 25.1)).toBeLessThan(Math.abs(air - 24.13));
  });

  it('says nothing above its last line', () => {
    expect(why(practicalLift(lines, 10_561))).toContain('ends at 10560 ft');
    expect(why(practicalLift([], 0))).toContain('no line');
  });
});

describe('the least of practice and physics', () => {
  const practice: SuctionLimit = { by: 'common-practice', limitFt: '27', atLimit: 'beyond' };
  const table: SuctionLimit = { by: 'practical-table', limitFt: '22', atLimit: 'within' };
  const physics = (limitFt: string): SuctionLimit => ({ by: 'physics', limitFt, atLimit: 'beyond' });

  // Common practice, no source: a bladder or other submersible pump from 27 ft on.
  it.each([
    ['26.9', true],
    ['27.0', false],
    ['27', false],
    ['27.5', false],
    ['24.0', true],
  ])('by common practice alone a lift of %s ft is served: %s', (liftFt, serves) => {
    expect(given(suctionWithin(liftFt, [practice])).serves).toBe(serves);
  });

  it('names the least, which at sea level is the table of surface pumps', () => {
    const answer = given(suctionWithin('26.9', [practice, table, physics('33.5')]));
    expect(answer).toMatchObject({ serves: false, least: { by: 'practical-table' } });
    expect(answer.limits.map((one) => one.passes)).toEqual([true, false, true]);
    expect(given(suctionWithin('22.0', [practice, table])).serves).toBe(true);
  });

  it('is at the limit of physics with 26.9 ft at 5,000 ft and 30 °C', () => {
    const limit = given(suctionLiftAtAltitudeFt(5_000, 30)).toFixed(1);
    expect(limit).toBe('26.9');
    expect(given(suctionWithin('26.9', [practice, physics(limit)]))).toMatchObject({
      serves: false,
      least: { by: 'physics' },
    });
  });

  it('of two equal limits names the one that is failed first', () => {
    expect(given(suctionWithin('22', [table, physics('22.0')])).least.by).toBe('physics');
    expect(given(suctionWithin('22', [physics('22.0'), table])).least.by).toBe('physics');
  });

  it('never serves more with one limit more, in whatever order they come', () => {
    const limit = fc.integer({ min: 0, max: 40 }).map((ft) => physics(String(ft)));
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 40 }), fc.array(limit, { minLength: 1 }), limit, (lift, limits, more) => {
        const before = given(suctionWithin(String(lift), limits));
        const after = given(suctionWithin(String(lift), [more, ...limits]));
        expect(before.serves || !after.serves).toBe(true);
        expect(Number(after.least.limitFt)).toBe(Math.min(...[more, ...limits].map((one) => Number(one.limitFt))));
      }),
    );
  });

  it('refuses a lift that is no decimal, and no limit at all', () => {
    expect(why(suctionWithin('deep', [practice]))).toContain('no plain decimal');
    expect(why(suctionWithin('10', []))).toContain('No limit');
  });
});
