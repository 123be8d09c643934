import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isRefusal, type Refusal } from '../../../src/science/refusal.ts';
import {
  type Recovered,
  reachesPercent,
  recoveryOfColumn,
  recoveryOfDrawdown,
} from '../../../src/science/well/recovery.ts';
import { minutesToRecover } from '../../../src/science/well/recovery-forecast.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a number');

function share(result: Recovered | Refusal): Recovered {
  if (isRefusal(result)) throw new Error(result.refused);
  return result;
}

const drawdown = (staticFt: string, lowestFt: string, nowFt: string) =>
  recoveryOfDrawdown({ staticFt, lowestFt, nowFt });
const column = (staticFt: string, bottomFt: string, nowFt: string) => recoveryOfColumn({ staticFt, bottomFt, nowFt });

describe('the two meanings of "80 % recovered"', () => {
  it('differ: 60 % of the drawdown is back where 80 % of the column stands', () => {
    expect(share(drawdown('20.00', '30.00', '24.00')).percent).toBe('60.0');
    expect(share(column('20.00', '40.0', '24.00')).percent).toBe('80.0');
    expect(reachesPercent(share(drawdown('20.00', '30.00', '24.00')), '80')).toBe(false);
    expect(reachesPercent(share(column('20.00', '40.0', '24.00')), '80')).toBe(true);
  });

  it('agree where the well was pumped dry', () => {
    const level = fc.integer({ min: 2_000, max: 4_000 }).map((value) => (value / 100).toFixed(2));
    fc.assert(
      fc.property(level, (now) => {
        expect(drawdown('20.00', '40.00', now)).toEqual(column('20.00', '40.00', now));
      }),
    );
  });

  it('of the column is never less than of the drawdown, for the bottom is never above the lowest level', () => {
    const at = (low: number, high: number) =>
      fc.integer({ min: low, max: high }).map((value) => (value / 100).toFixed(2));
    fc.assert(
      fc.property(at(2_001, 4_000), at(2_000, 4_000), (lowest, now) => {
        if (Number(now) > Number(lowest)) return;
        const ofColumn = share(column('20.00', '40.00', now)).share;
        const ofDrawdown = share(drawdown('20.00', lowest, now)).share;
        expect(Number(ofColumn.over) / Number(ofColumn.under)).toBeGreaterThanOrEqual(
          Number(ofDrawdown.over) / Number(ofDrawdown.under) - 1e-12,
        );
      }),
    );
  });

  it('is exact at the limit, and never shown as reached where it is not', () => {
    expect(reachesPercent(share(drawdown('20.00', '30.00', '22.00')), '80')).toBe(true);
    const just = share(drawdown('20.00', '30.00', '22.001'));
    expect(just.percent).toBe('79.9');
    expect(reachesPercent(just, '80')).toBe(false);
  });

  it('is below 0 where the level fell further, and above 100 where the static one was none', () => {
    expect(share(drawdown('20.00', '30.00', '30.51')).percent).toBe('-5.1');
    expect(share(drawdown('20.00', '30.00', '30.513')).percent).toBe('-5.2');
    expect(share(drawdown('20.00', '30.00', '19.50')).percent).toBe('105.0');
    expect(share(column('20.00', '40.00', '40.00')).percent).toBe('0.0');
  });

  it('is refused without a drawdown, a column or a number', () => {
    expect(why(drawdown('20.00', '20.0', '20.00'))).toContain('no drawdown');
    expect(why(drawdown('20.00', '2 0', '20.00'))).toContain('plain decimal');
    expect(why(column('40.00', '40.0', '40.00'))).toContain('no column');
    expect(why(column('20.00', '40.0', '40.01'))).toContain('below the bottom');
    expect(why(column('20.00', '40.0', '-'))).toContain('plain decimal');
  });
});

describe('when to look again', () => {
  const given = {
    residualDrawdown1Ft: 8,
    residualDrawdown2Ft: 4,
    minutesBetween: 10,
    share: 0.8,
    wholeDrawdownFt: 10,
  };

  it('takes as long from 4 ft to 2 ft as from 8 ft to 4 ft', () => {
    expect(minutesToRecover(given)).toBeCloseTo(10, 9);
    expect(minutesToRecover({ ...given, share: 0.9 })).toBeCloseTo(20, 9);
  });

  it('is now where the share is back', () => {
    expect(minutesToRecover({ ...given, share: 0.6 })).toBe(0);
    expect(minutesToRecover({ ...given, share: 0.5 })).toBe(0);
  });

  // Second way of computing: march the residual drawdown in steps of a hundredth of a minute.
  it('is what a march in small steps finds', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 9, noNaN: true }),
        fc.double({ min: 0.3, max: 0.95, noNaN: true }),
        (first, keeps) => {
          const second = first * keeps;
          const found = minutesToRecover({ ...given, residualDrawdown1Ft: first, residualDrawdown2Ft: second });
          let left = second;
          let steps = 0;
          while (left > 2) {
            left *= keeps ** 0.001;
            steps += 1;
          }
          expect(Math.abs(Number(found) - steps / 100)).toBeLessThan(0.011);
        },
      ),
    );
  });

  it.each([
    [{ minutesBetween: 0 }, 'are no time'],
    [{ share: 1 }, 'finite time'],
    [{ share: Number.NaN }, 'finite time'],
    [{ wholeDrawdownFt: 0 }, 'needs no recovery'],
    [{ residualDrawdown2Ft: 8 }, 'does not rise'],
    [{ residualDrawdown2Ft: Number.NaN }, 'does not rise'],
  ])('refuses %j', (part, reason) => {
    expect(why(minutesToRecover({ ...given, ...part }))).toContain(reason);
  });
});
