import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RECOVERY_RULES } from '../../../src/catalog/well/recovery-rules.ts';
import {
  cascade,
  isLowYield,
  type LowYieldWell,
  rulesNext,
  situationOf,
  stepsAt,
} from '../../../src/rules/forecast/low-yield.ts';
import {
  drawableMl,
  enoughWater,
  minutesUntil,
  type RecoveryMeaning,
} from '../../../src/rules/forecast/recovery-facts.ts';

/** A column of 20 ft that was pumped down by 10 ft: at 24 ft, 60 % of the drawdown and 80 % of the column are back. */
const WELL: LowYieldWell = {
  purgedDry: true,
  staticDepthToWaterFt: '20.00',
  lowestDepthToWaterFt: '30.00',
  depthToWaterFt: '24.00',
  depthToBottomFt: '40.0',
};

function next(well: LowYieldWell, id: string, meaning?: RecoveryMeaning) {
  return rulesNext(well, meaning).find((one) => one.id === id);
}

const EIGHTY_OR_24 = 'recovered-80-percent-or-24-hours';
const EIGHTY_OR_1_TO_8 = 'recovered-80-percent-within-1-to-8-hours';
const SEVENTY = 'recovered-70-percent';
const ENOUGH = 'as-soon-as-enough-has-recovered';
const ENOUGH_OR_DRY = 'within-24-hours-or-dry';

describe('80 % of what? a rule in both meanings', () => {
  it('is not met by the drawdown, is met by the column, and is open where the plan says nothing', () => {
    expect(next(WELL, EIGHTY_OR_24, 'drawdown')?.next).toBe('wait');
    expect(next(WELL, EIGHTY_OR_24, 'water-column')?.next).toBe('sample-now');
    expect(next(WELL, EIGHTY_OR_24)).toMatchObject({
      next: 'open',
      because:
        '60.0 % of the drawdown is back. 80.0 % of the water column is back. The plan has to say of what the percentage is, or the missing depths are needed.',
    });
    const nearly = { ...WELL, depthToWaterFt: '22.00' };
    expect(next(nearly, EIGHTY_OR_24)?.next).toBe('sample-now');
    expect(next({ ...WELL, depthToWaterFt: '29.00' }, EIGHTY_OR_24)?.next).toBe('wait');
  });

  it('is open where a depth lacks, and says which', () => {
    const { lowestDepthToWaterFt: _, ...without } = WELL;
    expect(next(without, EIGHTY_OR_24, 'drawdown')).toMatchObject({
      next: 'open',
      because: expect.stringContaining('needs the static level, the lowest one'),
    });
    expect(next({ purgedDry: true }, SEVENTY, 'water-column')?.because).toContain('the depth to the bottom');
  });
});

describe('80 % or 24 hours, whichever comes first', () => {
  it('waits, then samples at 24 h if there is enough, or records the well as dry', () => {
    const since = (sinceStoppedH: string, more: Partial<LowYieldWell> = {}) =>
      next({ ...WELL, sinceStoppedH, ...more }, EIGHTY_OR_24, 'drawdown');
    expect(since('23.5')).toMatchObject({ next: 'wait', waitMin: '30' });
    expect(since('24', { enoughWater: true })?.next).toBe('sample-now');
    expect(since('24.0', { enoughWater: false })?.next).toBe('record-as-dry');
    expect(since('30')).toMatchObject({
      next: 'open',
      because: expect.stringContaining('Say whether there is water enough'),
    });
  });

  it('waits no longer than the water needs, if it rises as it did', () => {
    const rising = { ...WELL, earlierDepthToWaterFt: '28.00', sinceEarlierMin: '10' };
    // from 4 ft to 2 ft below static takes as long as from 8 ft to 4 ft: 10 min
    expect(next(rising, EIGHTY_OR_24, 'drawdown')?.waitMin).toBe('10');
    expect(next({ ...rising, sinceStoppedH: '23.9' }, EIGHTY_OR_24, 'drawdown')?.waitMin).toBe('6');
    expect(next(WELL, EIGHTY_OR_24, 'drawdown')?.waitMin).toBeNull();
    // by no meaning of the plan both have to be reached
    const low = { ...rising, depthToWaterFt: '26.00', earlierDepthToWaterFt: '28.00' };
    expect(next(low, EIGHTY_OR_24)?.waitMin).toBe(next(low, EIGHTY_OR_24, 'drawdown')?.waitMin);
    expect(next({ ...low, earlierDepthToWaterFt: '25.00' }, EIGHTY_OR_24)?.waitMin).toBeNull();
  });
});

describe('80 %, or at least 1 h and at most 8 h', () => {
  const since = (sinceStoppedH?: string) => next({ ...WELL, sinceStoppedH }, EIGHTY_OR_1_TO_8, 'drawdown');

  it('waits for an hour, may sample until eight, and is then out of time', () => {
    expect(since('0.75')).toMatchObject({ next: 'wait', waitMin: '15' });
    expect(since('1')?.next).toBe('may-sample');
    expect(since('7.99')?.next).toBe('may-sample');
    expect(since('8.0')).toMatchObject({ next: 'out-of-time', because: expect.stringContaining('the plan decides') });
    expect(since()).toMatchObject({ next: 'wait', waitMin: null });
  });

  it('samples at once where 80 % are back', () => {
    expect(next({ ...WELL, sinceStoppedH: '0.1' }, EIGHTY_OR_1_TO_8, 'water-column')?.next).toBe('sample-now');
  });
});

describe('70 %, and what is a low yield by it', () => {
  it('waits without end', () => {
    expect(next({ ...WELL, sinceStoppedH: '50' }, SEVENTY, 'drawdown')).toMatchObject({ next: 'wait', waitMin: null });
    expect(next({ ...WELL, depthToWaterFt: '23.00' }, SEVENTY, 'drawdown')?.next).toBe('sample-now');
  });

  it('is low where less is back after one hour', () => {
    expect(isLowYield({ ...WELL, sinceStoppedH: '1.0' }, 'drawdown')).toBe(true);
    expect(isLowYield({ ...WELL, sinceStoppedH: '0.9' }, 'drawdown')).toBeNull();
    expect(isLowYield(WELL, 'drawdown')).toBeNull();
    expect(isLowYield({ ...WELL, sinceStoppedH: '1.0' }, 'water-column')).toBe(false);
    expect(isLowYield({ ...WELL, sinceStoppedH: '1.0' }, undefined)).toBeNull();
  });
});

describe('as soon as there is water enough', () => {
  const since = (id: string, more: Partial<LowYieldWell>) => next({ ...WELL, ...more }, id);

  it('asks whether there is, and samples or waits', () => {
    expect(since(ENOUGH, {})).toMatchObject({
      next: 'open',
      because: expect.stringContaining('what the bottles need'),
    });
    expect(since(ENOUGH, { enoughWater: true })?.next).toBe('sample-now');
    expect(since(ENOUGH, { enoughWater: false })).toMatchObject({ next: 'wait', waitMin: null });
    expect(since(ENOUGH, { enoughWater: false, sinceStoppedH: '99' })?.next).toBe('wait');
  });

  it('records the well as dry after 24 h where the rule does', () => {
    expect(since(ENOUGH_OR_DRY, { enoughWater: false, sinceStoppedH: '20' })).toMatchObject({
      next: 'wait',
      waitMin: '240',
    });
    expect(since(ENOUGH_OR_DRY, { enoughWater: false, sinceStoppedH: '24' })?.next).toBe('record-as-dry');
    expect(since(ENOUGH_OR_DRY, { enoughWater: false })).toMatchObject({ next: 'wait', waitMin: null });
    expect(since(ENOUGH_OR_DRY, { sinceStoppedH: '24' })?.next).toBe('open');
    expect(since(ENOUGH_OR_DRY, { enoughWater: true, sinceStoppedH: '40' })?.next).toBe('sample-now');
  });

  // a 2.00-in casing has 0.6178 L in a foot: pi / 4 (2 in)^2 12 in = 37.70 cubic inches of 16.387064 mL
  it('counts the water above the intake, or above the bottom', () => {
    const counted = { depthToWaterFt: '38.00', casingInsideDiameterIn: '2.00', intakeDepthFt: '39.0' };
    const footMl = (Math.PI / 4) * 4 * 12 * 16.387064;
    expect(drawableMl({ ...WELL, ...counted })).toBeCloseTo(footMl, 6);
    expect(
      drawableMl({ depthToWaterFt: '38.00', casingInsideDiameterIn: '2.00', depthToBottomFt: '40.0' }),
    ).toBeCloseTo(2 * footMl, 6);
    expect(drawableMl({ ...counted, intakeDepthFt: '41.0', depthToBottomFt: '40.0' })).toBeCloseTo(2 * footMl, 6);
    expect(drawableMl({ ...counted, depthToWaterFt: '39.50' })).toBe(0);
    expect(drawableMl({ ...counted, casingInsideDiameterIn: '0' })).toBeNull();
    expect(drawableMl({ casingInsideDiameterIn: '2.00' })).toBeNull();
    expect(drawableMl({ casingInsideDiameterIn: '2.00', intakeDepthFt: '39.0' })).toBeNull();
    expect(drawableMl(WELL)).toBeNull();
    expect(enoughWater({ ...counted, neededMl: '617' })).toBe(true);
    expect(enoughWater({ ...counted, neededMl: '618' })).toBe(false);
    expect(enoughWater(counted)).toBeNull();
    expect(enoughWater({ ...counted, neededMl: '618', enoughWater: true })).toBe(true);
  });
});

describe('what was said of the well', () => {
  it('names its situation, and with it what to do and not to do', () => {
    expect(situationOf({ purgedDry: true, drawdownGrowing: true })).toBe('purged-dry');
    expect(situationOf({ drawdownGrowing: true })).toBe('drawdown-grows');
    expect(situationOf({ purgedDry: false, drawdownGrowing: false })).toBe('neither');
    expect(situationOf({ purgedDry: false })).toBe('not-known');
    expect(situationOf({})).toBe('not-known');
    const ids = (situation: Parameters<typeof stepsAt>[0]) => stepsAt(situation).map(({ id }) => id);
    expect(ids('purged-dry')).toEqual(
      expect.arrayContaining(['sample-as-soon-as-enough', 'leave-the-intake', 'no-cascade']),
    );
    expect(ids('purged-dry')).not.toContain('lower-the-rate');
    expect(ids('drawdown-grows')).toEqual(expect.arrayContaining(['lower-the-rate', 'not-by-low-flow', 'no-cascade']));
    expect(ids('neither')).toEqual([]);
    expect(ids('not-known')).toEqual([]);
  });

  it('asks no rule on recovery while the pump runs in a well that is not dry', () => {
    expect(rulesNext({ drawdownGrowing: true }, undefined)).toEqual([]);
    expect(rulesNext({ sinceStoppedH: '1' }, undefined)).toHaveLength(RECOVERY_RULES.length);
  });

  it('sees water run down inside the screen', () => {
    expect(cascade({ ...WELL, screenTopFt: '28.0' })[0]).toContain('2.00 ft below the top of the screen');
    expect(cascade({ depthToWaterFt: '29.00', screenTopFt: '28.0' })[0]).toContain('1.00 ft below');
    expect(cascade({ ...WELL, screenTopFt: '30.0' })).toEqual([]);
    expect(cascade({ screenTopFt: '30.0' })).toEqual([]);
    expect(cascade(WELL)).toEqual([]);
  });
});

describe('recovery as a function', () => {
  const ORDER = ['wait', 'open', 'may-sample', 'sample-now'];

  it('is never further from sampling the more has come back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2001, max: 3000 }), fc.constantFrom(...RECOVERY_RULES), (hundredths, { id }) => {
        const at = (depth: number) => {
          const well = { ...WELL, depthToWaterFt: (depth / 100).toFixed(2), sinceStoppedH: '2', enoughWater: false };
          return ORDER.indexOf(next(well, id, 'drawdown')?.next ?? '');
        };
        expect(at(hundredths - 1)).toBeGreaterThanOrEqual(at(hundredths));
      }),
    );
  });

  it('waits as long as an exponential recovery takes, computed by stepping through it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 10, max: 80 }), fc.integer({ min: 60, max: 95 }), (constant, percent) => {
        const residual = (minutes: number) => 10 * Math.exp(-minutes / constant);
        const depth = (minutes: number) => (20 + residual(minutes)).toFixed(6);
        const well = { ...WELL, earlierDepthToWaterFt: depth(0), depthToWaterFt: depth(5), sinceEarlierMin: '5' };
        let minutes = 5;
        while (residual(minutes) > 10 * (1 - percent / 100)) minutes += 0.01;
        expect(minutesUntil(well, 'drawdown', String(percent))).toBeCloseTo(minutes - 5, 1);
      }),
      { numRuns: 40 },
    );
  });

  it('does not depend on the point that depths are counted from', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2000, max: 3000 }), fc.integer({ min: -1500, max: 1500 }), (hundredths, shift) => {
        const moved = (depth: number) => ((depth + shift) / 100).toFixed(2);
        const at = (move: (depth: number) => string): LowYieldWell => ({
          purgedDry: true,
          staticDepthToWaterFt: move(2000),
          lowestDepthToWaterFt: move(3000),
          depthToWaterFt: move(hundredths),
          depthToBottomFt: move(4000),
          sinceStoppedH: '3',
        });
        expect(rulesNext(at(moved), 'drawdown')).toEqual(
          rulesNext(
            at((depth) => (depth / 100).toFixed(2)),
            'drawdown',
          ),
        );
      }),
    );
  });
});
