import fc from 'fast-check';
import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import {
  type LevelForecast,
  type LevelTarget,
  levelForecast,
  type NoLevelForecast,
  type TimedLevel,
} from '../../../src/rules/forecast/level-forecast.ts';
import { shownLevels } from '../../../src/rules/forecast/level-shape.ts';
import { normalDraw } from '../../../src/science/forecast/draws.ts';
import { seededUniform } from '../../../src/science/forecast/seeded-uniform.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const SCREEN: LevelTarget[] = [{ at: 'screen-top', depthFt: '20.0' }];

function every5Min(depths: readonly (number | string)[]): TimedLevel[] {
  return depths.map((depth, at) => ({
    minutes: 5 * at,
    depthFt: typeof depth === 'string' ? depth : depth.toFixed(2),
  }));
}

function falling(found: LevelForecast | NoLevelForecast): LevelForecast {
  if (isRefusal(found)) throw new Error(found.refused);
  return found;
}

describe('when the water gets to a depth', () => {
  // 2.0 ft above the screen top, a margin of 1.0 ft, 0.05 ft a minute: 1.0 / 0.05 = 20 min
  it('is in 20 minutes in the worked case', () => {
    const found = falling(levelForecast(every5Min(['17.50', '17.75', '18.00']), SCREEN, '1.0'));
    expect(found.ftPerMin).toBeCloseTo(0.05, 12);
    expect(found.arrivals).toMatchObject([{ at: 'screen-top', depthFt: '19.0', distanceFt: '1.00', minutes: '20' }]);
    const [arrival] = shownLevels(found).arrivals;
    expect(arrival?.sentence).toMatch(
      /^The water is at 19.0 ft, 1.0 ft above the top of the screen, in 20 min \(\d+ to \d+\)/,
    );
    expect(Number(arrival?.earliestMin)).toBeLessThan(20);
    expect(Number(arrival?.latestMin)).toBeGreaterThan(20);
  });

  it('is told for the top of the screen and for the intake, from the levels that lie on a line', () => {
    const bent = [18, 18.3, 18.5, 18.65, 18.77, 18.88, 18.98, 19.08, 19.17];
    const targets = [...SCREEN, { at: 'intake' as const, depthFt: '25.0' }];
    const shown = shownLevels(levelForecast(every5Min(bent), targets, '0'));
    expect(shown).toMatchObject({ direction: 'falling', levels: 5, fallFtPerMin: '0.0200' });
    expect(shown.arrivals.map(({ at, minutes }) => [at, minutes])).toEqual([
      ['screen-top', '41'],
      ['intake', '291'],
    ]);
    expect(shown.arrivals[0]?.sentence).toContain('20.0 ft, the top of the screen, in 41 min');
  });

  it('is now where the water is there, also where nothing else can be told', () => {
    const there = levelForecast(every5Min([19.9, 20.0, 20.1]), SCREEN, '0');
    expect(shownLevels(there).arrivals).toMatchObject([
      { minutes: '0', earliestMin: '0', latestMin: '0', sentence: expect.stringContaining('has reached 20.0 ft') },
    ]);
    for (const levels of [[20.2], [20.2, 20.2, 20.2, 20.2], [20.5, 20.4, 20.3]])
      expect(levelForecast(every5Min(levels), SCREEN, '0').arrivals).toMatchObject([{ minutes: '0' }]);
    expect(levelForecast(every5Min([20]), SCREEN, '0').arrivals).toHaveLength(1);
    expect(levelForecast(every5Min([19.99]), SCREEN, '0').arrivals).toHaveLength(0);
  });

  it('is not told of a level that is steady, rises, was measured too few times or twice at one time', () => {
    const of = (depths: readonly number[]) => levelForecast(every5Min(depths), SCREEN, '0');
    expect(of([])).toMatchObject({ direction: 'not-known', refused: expect.stringContaining('0 levels are too few') });
    expect(of([18, 18.1])).toMatchObject({ direction: 'not-known', refused: expect.stringContaining('it takes 3') });
    expect(of([18, 18.01, 18, 18.01])).toMatchObject({
      direction: 'steady',
      refused: expect.stringContaining('may as well be nothing'),
    });
    expect(of([18, 17.9, 17.8])).toMatchObject({
      direction: 'rising',
      refused: expect.stringContaining('rises (0.0200'),
    });
    expect(shownLevels(of([18, 17.9, 17.8]))).toEqual({
      direction: 'rising',
      fallFtPerMin: null,
      fallWithinFtPerMin: null,
      levels: null,
      arrivals: [],
    });
    const twice = [...every5Min([18, 18.1, 18.2]), { minutes: 5, depthFt: '18.11' }];
    expect(levelForecast(twice, SCREEN, '0')).toMatchObject({
      direction: 'not-known',
      refused: expect.stringContaining('Two values are of the time 5'),
    });
  });
});

/** A fall by so many thousandths of a foot a minute, from 17 ft, with the scatter of a tape in hundredths. */
const anyFall = fc.tuple(
  fc.integer({ min: 20, max: 100 }),
  fc.array(fc.integer({ min: -1, max: 1 }), { minLength: 5, maxLength: 10 }),
);

function levelsOf([thousandths, scatter]: [number, number[]]): TimedLevel[] {
  return every5Min(scatter.map((one, at) => 17 + (thousandths / 1000) * 5 * at + one / 100));
}

describe('a forecast of the level as a function', () => {
  it('takes the levels in any order, and does not ask where time begins', () => {
    fc.assert(
      fc.property(anyFall, (fall) => {
        const levels = levelsOf(fall);
        const here = levelForecast(levels, SCREEN, '0.5');
        const later = levels.toReversed().map(({ minutes, depthFt }) => ({ minutes: minutes + 1440, depthFt }));
        expect(shownLevels(levelForecast(later, SCREEN, '0.5'))).toEqual(shownLevels(here));
      }),
    );
  });

  it('never tells a later time for a wider margin', () => {
    fc.assert(
      fc.property(anyFall, fc.integer({ min: 0, max: 20 }), (fall, tenths) => {
        const at = (margin: number) => levelForecast(levelsOf(fall), SCREEN, (margin / 10).toFixed(1)).arrivals[0];
        const [narrow, wide] = [at(tenths), at(tenths + 1)];
        expect(Number(wide?.minutes)).toBeLessThanOrEqual(Number(narrow?.minutes));
        expect(Number(wide?.earliestMin)).toBeLessThanOrEqual(Number(narrow?.earliestMin));
      }),
    );
  });

  it('agrees with the regression of a general-purpose library where the fall is straight', () => {
    fc.assert(
      fc.property(anyFall, (fall) => {
        const levels = levelsOf(fall);
        const found = falling(levelForecast(levels, [{ at: 'intake', depthFt: '40.0' }], '0'));
        const used = levels.slice(-found.levels);
        const { m, b } = linearRegression(used.map(({ minutes, depthFt }) => [minutes, Number(depthFt)]));
        const minutes = (40 - b) / m - (used.at(-1)?.minutes ?? 0);
        expect(Number(found.arrivals[0]?.minutes)).toBe(Math.floor(minutes + 1e-6));
      }),
    );
  });

  // 4,000 series of 4 to 10 levels: falls of 0.02 to 0.08 ft/min, scatter of 0.005 to 0.02 ft, read to 0.01 ft
  it('holds the true time in 19 of 20 series, measured', () => {
    const uniform = seededUniform(41);
    let [told, within] = [0, 0];
    for (let series = 0; series < 4000; series += 1) {
      const [slope, scatter] = [0.02 + 0.06 * uniform(), 0.005 + 0.015 * uniform()];
      const count = 4 + Math.floor(7 * uniform());
      const levels = every5Min(
        Array.from({ length: count }, (_, at) => 17 + slope * 5 * at + scatter * normalDraw(uniform)),
      );
      const found = levelForecast(levels, [{ at: 'intake', depthFt: '25.00' }], '0');
      if (isRefusal(found)) continue;
      told += 1;
      const truth = 8 / slope - 5 * (count - 1);
      const { earliestMin, latestMin } = found.arrivals[0] ?? { earliestMin: '0', latestMin: '0' };
      if (truth >= Number(earliestMin) && truth <= Number(latestMin)) within += 1;
    }
    expect(told).toBeGreaterThan(3500);
    expect(within / told).toBeGreaterThan(0.93);
    expect(within / told).toBeLessThan(0.98);
  });
});
