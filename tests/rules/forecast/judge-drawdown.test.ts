import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DRAWDOWN_RULES } from '../../../src/catalog/well/drawdown-rules.ts';
import { judgeDrawdown, type PumpedWell } from '../../../src/rules/forecast/judge-drawdown.ts';
import { fillAtMost, judgeRates, type Rates } from '../../../src/rules/forecast/judge-rates.ts';

/** Static level 15.00 ft, screen 20 to 30 ft, intake at 25 ft, bottom at 30.2 ft. */
function pumped(drawdownFt: string, more: Partial<PumpedWell> = {}): PumpedWell {
  return {
    staticDepthToWaterFt: '15.00',
    depthToWaterFt: new Decimal('15.00').plus(drawdownFt).toFixed(),
    screenTopFt: '20.0',
    screenBottomFt: '30.0',
    intakeDepthFt: '25.0',
    depthToBottomFt: '30.2',
    ...more,
  };
}

function finding(well: PumpedWell, id: string): string | undefined {
  return judgeDrawdown(well).find((one) => one.id === id)?.finding;
}

describe('a drawdown by every published rule', () => {
  // 0.1 m is 0.328 ft and 0.3 ft is 0.0914 m
  it('knows that 0.3 ft is not 0.1 m: 0.31 ft is beyond the one and within the other', () => {
    expect(finding(pumped('0.31'), 'target-of-0.3-ft')).toBe('beyond');
    expect(finding(pumped('0.31'), 'goal-of-0.1-m')).toBe('within');
    expect(finding(pumped('0.33'), 'goal-of-0.1-m')).toBe('beyond');
    const goal = judgeDrawdown(pumped('0.31')).find(({ id }) => id === 'goal-of-0.1-m');
    expect(goal).toMatchObject({ limitFt: '0.328', verified: false });
  });

  it('compares as each wording does at the limit itself: "at most" is within, "less than" is beyond', () => {
    expect(finding(pumped('0.30'), 'target-of-0.3-ft')).toBe('within');
    // 10 % of a screen of 10 ft, 5 % of a column of 15.2 ft, 25 % of 5 ft
    expect(finding(pumped('1.00'), 'tenth-of-screen-length')).toBe('beyond');
    expect(finding(pumped('0.99'), 'tenth-of-screen-length')).toBe('within');
    expect(finding(pumped('0.76'), 'twentieth-of-water-column')).toBe('within');
    expect(finding(pumped('0.77'), 'twentieth-of-water-column')).toBe('beyond');
    expect(finding(pumped('1.25'), 'quarter-of-screen-top-to-intake')).toBe('within');
    expect(finding(pumped('1.26'), 'quarter-of-screen-top-to-intake')).toBe('beyond');
  });

  it('lets a steady level pass where the rule does', () => {
    for (const id of ['more-than-0.3-ft-if-steady', 'army-depot-target-of-0.3-ft']) {
      expect(finding(pumped('0.2'), id)).toBe('within');
      expect(finding(pumped('2.0', { steady: true }), id)).toBe('tolerated');
      expect(finding(pumped('2.0', { steady: false }), id)).toBe('beyond');
      expect(finding(pumped('2.0'), id)).toBe('not-known');
    }
    expect(finding(pumped('9.0', { steady: true }), 'steady-at-any-depth')).toBe('within');
    expect(finding(pumped('0.1', { steady: false }), 'steady-at-any-depth')).toBe('beyond');
    expect(finding(pumped('0.1'), 'steady-at-any-depth')).toBe('not-known');
  });

  it('keeps the water above the intake and out of the screen', () => {
    expect(finding(pumped('9.99'), 'never-to-the-intake')).toBe('within');
    expect(finding(pumped('10.00'), 'never-to-the-intake')).toBe('beyond');
    expect(finding(pumped('4.99'), 'not-into-the-screen')).toBe('within');
    expect(finding(pumped('5.00'), 'not-into-the-screen')).toBe('beyond');
    const across = judgeDrawdown(pumped('0.5', { staticDepthToWaterFt: '21.00', depthToWaterFt: '21.50' }));
    expect(across.find(({ id }) => id === 'not-into-the-screen')).toMatchObject({
      finding: 'within',
      because: expect.stringContaining('does not apply'),
    });
  });

  it('says what it needs where a depth lacks, or cannot be', () => {
    const bare = { staticDepthToWaterFt: '15.00', depthToWaterFt: '15.10' };
    const lacking = judgeDrawdown(bare).filter((one) => one.finding === 'not-known');
    expect(lacking.map(({ id }) => id)).toEqual([
      'quarter-of-screen-top-to-intake',
      'steady-at-any-depth',
      'tenth-of-screen-length',
      'twentieth-of-water-column',
      'never-to-the-intake',
      'not-into-the-screen',
    ]);
    for (const { because } of lacking) expect(because).toMatch(/^It needs /);
    expect(finding(pumped('0.1', { intakeDepthFt: '20.0' }), 'quarter-of-screen-top-to-intake')).toBe('not-known');
    expect(finding(pumped('0.1', { screenTopFt: undefined }), 'tenth-of-screen-length')).toBe('not-known');
  });

  it('agrees with a second computation by a decimal library', () => {
    const limitFt = (id: string) => {
      const limits: Record<string, Decimal> = {
        'goal-of-0.1-m': new Decimal('0.1').div('0.3048'),
        'quarter-of-screen-top-to-intake': new Decimal(5).times('0.25'),
        'tenth-of-screen-length': new Decimal(1),
        'twentieth-of-water-column': new Decimal('15.2').times('0.05'),
      };
      return limits[id] ?? new Decimal('0.3');
    };
    fc.assert(
      fc.property(fc.integer({ min: -50, max: 2500 }), (thousandths) => {
        const drawdown = new Decimal(thousandths).div(1000);
        for (const { id, asks, strictly } of DRAWDOWN_RULES.filter(({ limit }) => limit !== undefined)) {
          const within = strictly ? drawdown.lt(limitFt(id)) : drawdown.lte(limitFt(id));
          const beyond = asks === 'limit' ? 'beyond' : 'tolerated';
          expect(finding(pumped(drawdown.toFixed(3), { steady: true }), id)).toBe(within ? 'within' : beyond);
        }
      }),
    );
  });

  it('is never better for more drawdown, nor in another unit of the same depths', () => {
    const rank = ['within', 'tolerated', 'beyond'];
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 11_000 }), fc.boolean(), (thousandths, steady) => {
        const at = (drawdown: number) => judgeDrawdown(pumped((drawdown / 1000).toFixed(3), { steady }));
        const deeper = at(thousandths + 1);
        at(thousandths).forEach((one, index) => {
          expect(rank.indexOf(deeper[index]?.finding ?? '')).toBeGreaterThanOrEqual(rank.indexOf(one.finding));
        });
        const shifted = pumped((thousandths / 1000).toFixed(3), { steady });
        const up = (depth: string | undefined) => new Decimal(depth ?? 0).plus('7.35').toFixed();
        const moved: PumpedWell = {
          steady,
          staticDepthToWaterFt: up(shifted.staticDepthToWaterFt),
          depthToWaterFt: up(shifted.depthToWaterFt),
          screenTopFt: up(shifted.screenTopFt),
          screenBottomFt: up(shifted.screenBottomFt),
          intakeDepthFt: up(shifted.intakeDepthFt),
          depthToBottomFt: up(shifted.depthToBottomFt),
        };
        expect(judgeDrawdown(moved).map((one) => one.finding)).toEqual(at(thousandths).map((one) => one.finding));
      }),
    );
  });
});

describe('rates of pumping and filling', () => {
  const of = (rates: Rates, id: string) => judgeRates(rates).find((one) => one.id === id);

  it('holds each rate against what is published for it', () => {
    expect(of({ flowMlPerMin: '999' }, 'usually-below-1-l')?.finding).toBe('within');
    expect(of({ flowMlPerMin: '1000' }, 'usually-below-1-l')?.finding).toBe('beyond');
    expect(of({ flowMlPerMin: '90' }, 'typically-100-to-500-ml')?.finding).toBe('below');
    expect(of({ flowMlPerMin: '500' }, 'typically-100-to-500-ml')?.finding).toBe('within');
    expect(of({ flowMlPerMin: '501' }, 'army-depot-purging')?.finding).toBe('beyond');
    expect(of({}, 'army-depot-purging')?.finding).toBe('not-known');
    expect(of({ flowMlPerMin: '900' }, 'start-at-100-ml')?.finding).toBe('for-information');
    expect(of({ flowMlPerMin: '900' }, 'some-need-10-ml')?.finding).toBe('for-information');
  });

  it('fills volatiles at about 100 mL/min, 40-mL vials at 150 at most, larger bottles at 500 at most', () => {
    expect(of({ fillingMlPerMin: '100' }, 'volatiles-at-100-ml')?.finding).toBe('within');
    expect(of({ fillingMlPerMin: '140' }, 'volatiles-at-100-ml')).toMatchObject({
      finding: 'beyond',
      because: '140 mL/min is beyond about 100 mL/min.',
    });
    expect(of({ fillingMlPerMin: '150' }, 'vials-at-most-150-ml')?.finding).toBe('within');
    expect(of({ fillingMlPerMin: '151' }, 'vials-at-most-150-ml')?.finding).toBe('beyond');
    expect(of({ fillingMlPerMin: '500' }, 'bottles-at-most-500-ml')?.finding).toBe('within');
  });

  it('fills no faster than the well was purged', () => {
    expect(of({ flowMlPerMin: '200', fillingMlPerMin: '250' }, 'no-faster-than-purged')?.finding).toBe('beyond');
    expect(of({ flowMlPerMin: '300', fillingMlPerMin: '250' }, 'no-faster-than-purged')?.finding).toBe('within');
    expect(of({ fillingMlPerMin: '250' }, 'no-faster-than-purged')).toMatchObject({
      finding: 'not-known',
      because: expect.stringContaining('the rate at which the well was purged'),
    });
    expect(of({ flowMlPerMin: '450', fillingMlPerMin: '410' }, 'army-depot-filling')?.atMostMlPerMin).toBe('400');
    expect(of({ flowMlPerMin: '350', fillingMlPerMin: '410' }, 'army-depot-filling')?.atMostMlPerMin).toBe('350');
  });

  it('shows what applies to the suites, and the rate that nothing speaks against', () => {
    const most = (rates: Rates) => fillAtMost(judgeRates(rates));
    expect(most({ suites: ['volatiles', 'metals'] })).toBe('100');
    expect(most({ suites: ['metals'] })).toBe('400');
    expect(most({ suites: ['metals'], flowMlPerMin: '250' })).toBe('250');
    expect(most({ suites: ['volatiles'], flowMlPerMin: '80' })).toBe('80');
    expect(most({})).toBe('100');
    expect(fillAtMost([])).toBeNull();
    expect(of({ suites: ['volatiles'] }, 'bottles-at-most-500-ml')).toBeUndefined();
    expect(of({ suites: ['pfas'] }, 'vials-at-most-150-ml')).toBeUndefined();
  });
});
