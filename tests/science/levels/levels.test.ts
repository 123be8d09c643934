import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { levelsOfRound, type RoundLevel } from '../../../src/science/levels/levels-of-round.ts';
import { plumbDepthFt, slantFt } from '../../../src/science/levels/plumb-depth.ts';
import { repeatAgreement } from '../../../src/science/levels/repeat-agreement.ts';
import { TIDAL_HOURS, tidalMean } from '../../../src/science/levels/tidal-mean.ts';
import { verticalGradient } from '../../../src/science/levels/vertical-gradient.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave an answer');

describe('repeated depths to water', () => {
  it.each([
    [['23.47', '23.47'], '0.01', true, '0.00', '23.47'],
    [['23.47', '23.46'], '0.01', true, '0.01', '23.46'],
    [['23.47', '23.45'], '0.01', false, '0.02', null],
    [['23.47', '23.45'], '0.02', true, '0.02', '23.45'],
    [['23.47', '23.45', '23.46'], '0.01', true, '0.01', '23.46'],
    [['23.46', '23.46', '23.40'], '0.02', false, '0.06', null],
    [['-1.00', '-1.01'], '0.01', true, '0.01', '-1.01'],
  ])('%j to %s ft: %s', (depths, tolerance, agree, differenceFt, depthFt) => {
    expect(repeatAgreement(depths, tolerance)).toEqual({ agree, differenceFt, depthFt });
  });

  // 23.47 - 23.46 is 0.00999..., and 23.46 - 23.45 is 0.0100000000000016 in binary numbers.
  it('is exactly at 0.01 ft where binary numbers are above it', () => {
    expect(23.46 - 23.45).toBeGreaterThan(0.01);
    expect(repeatAgreement(['23.46', '23.45'], '0.01')).toMatchObject({ agree: true });
  });

  it('does not mind which of the two came first', () => {
    const depth = fc.integer({ min: -500, max: 30_000 }).map((value) => (value / 100).toFixed(2));
    fc.assert(
      fc.property(depth, depth, (a, b) => {
        const [one, other] = [repeatAgreement([a, b], '0.02'), repeatAgreement([b, a], '0.02')];
        expect(one).toMatchObject({ agree: !isRefusal(other) && other.agree });
      }),
    );
  });

  it('refuses a single reading, a negative tolerance and what is no number', () => {
    expect(why(repeatAgreement(['23.47'], '0.01'))).toContain('second time');
    expect(why(repeatAgreement([], '0.01'))).toContain('second time');
    expect(why(repeatAgreement(['23.47', '23.47'], '-0.01'))).toContain('below 0');
    expect(why(repeatAgreement(['23.47', 'dry'], '0.01'))).toContain('depth 2 in feet "dry"');
  });
});

describe('a well out of plumb', () => {
  // USGS Pacific Islands, errors of synoptic surveys, archived web page.
  it('makes a tape read 100.005 ft where it is 1 ft out in 100 ft', () => {
    expect(Number(slantFt(100, 1)).toFixed(3)).toBe('100.005');
    expect(Number(plumbDepthFt(100.005, 1)).toFixed(3)).toBe('100.000');
  });

  it('is corrected by what it was misread by', () => {
    const depth = fc.double({ min: 1, max: 1_000, noNaN: true });
    fc.assert(
      fc.property(depth, fc.double({ min: -50, max: 50, noNaN: true }), (plumb, offset) => {
        const slant = Number(slantFt(plumb, offset));
        expect(slant).toBeGreaterThanOrEqual(plumb);
        expect(Number(plumbDepthFt(slant, offset))).toBeCloseTo(plumb, 6);
      }),
    );
  });

  it('refuses a depth above the point, no offset, and a tape that is too short', () => {
    expect(why(slantFt(-1, 1))).toContain('not below the point');
    expect(why(slantFt(1, Number.NaN))).toContain('no distance');
    expect(why(plumbDepthFt(1, 2))).toContain('cannot reach');
    expect(why(plumbDepthFt(Number.NaN, 2))).toContain('cannot reach');
  });
});

describe('mean level of a tidal well', () => {
  const hours = Array.from({ length: TIDAL_HOURS }, (_, hour) => hour - 35);
  const tide = (periodH: number, phase: number) =>
    hours.map((hour) => Math.cos((2 * Math.PI * hour) / periodH + phase));

  /** What three moving means of 24, 24 and 25 h leave of a wave: a product of Dirichlet kernels. */
  function leaves(periodH: number): number {
    const kernel = (width: number) => Math.sin((Math.PI * width) / periodH) / (width * Math.sin(Math.PI / periodH));
    return kernel(24) ** 2 * kernel(25);
  }

  it('keeps a level that stands, and gives a steady rise its value in the middle', () => {
    expect(tidalMean(hours.map(() => 12.5))).toBeCloseTo(12.5, 12);
    expect(tidalMean(hours.map((hour) => 12.5 + 0.01 * hour))).toBeCloseTo(12.5, 12);
  });

  // Periods of the chief tides in hours: lunar half-daily, solar half-daily, the three daily ones.
  it.each([12.4206, 12, 23.9345, 25.8193, 24.0659])('takes a tide of %s h out to less than a thousandth', (period) => {
    expect(Math.abs(Number(tidalMean(tide(period, 0))))).toBeLessThan(0.001);
  });

  it('leaves of any wave what its kernels leave, whatever the phase', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 800, noNaN: true }),
        fc.double({ min: 0, max: 7, noNaN: true }),
        (period, phase) => {
          expect(Number(tidalMean(tide(period, phase)))).toBeCloseTo(leaves(period) * Math.cos(phase), 9);
        },
      ),
    );
  });

  it('is better than a plain day, which leaves 3.5 % of the lunar tide', () => {
    const left = Array.from({ length: 360 }, (_, degrees) => {
      const day = tide(12.4206, (degrees * Math.PI) / 180).slice(0, 24);
      return Math.abs(day.reduce((sum, value) => sum + value, 0) / 24);
    });
    expect(Math.max(...left)).toBeCloseTo(0.035, 3);
  });

  it.each([0, 24, 70, 72])('refuses %s values', (count) => {
    expect(why(tidalMean(Array.from({ length: count }, () => 1)))).toContain(`${count} hourly values`);
  });

  it('refuses a gap', () => {
    expect(why(tidalMean(hours.map((hour) => (hour === 3 ? Number.NaN : 1))))).toContain('gap');
  });
});

describe('the levels of one round', () => {
  const level = (well: string, at: string): RoundLevel => ({ well, at });
  const first = level('MW-1', '2026-05-04T08:00:00-05:00');
  const second = level('MW-2', '2026-05-04T15:00:00-05:00');
  const nextDay = level('MW-3', '2026-05-05T08:00:00-05:00');
  const late = level('MW-4', '2026-05-05T08:00:01-05:00');

  it('takes 24 h to the second, and says what it leaves out', () => {
    const round = levelsOfRound([late, nextDay, second, first], 24);
    expect(round).toEqual({
      kept: [first, second, nextDay],
      excluded: [{ level: late, because: 'MW-4 at 2026-05-05T08:00:01-05:00 is outside the 24 h of the round' }],
    });
  });

  it('reads the clock with its offset', () => {
    const elsewhere = level('MW-5', '2026-05-05T06:30:00-07:00');
    expect(levelsOfRound([first, elsewhere], 24)).toMatchObject({ kept: [first] });
    expect(levelsOfRound([first, level('MW-5', '2026-05-05T06:00:00-07:00')], 24)).toMatchObject({ excluded: [] });
  });

  it('is shorter at a tidal site, and may begin where the plan says', () => {
    expect(levelsOfRound([first, second], 1)).toMatchObject({ kept: [first] });
    expect(levelsOfRound([first, second], 1, '2026-05-04T14:30:00-05:00')).toMatchObject({ kept: [second] });
    expect(levelsOfRound([first, second], 1, '2026-05-04T10:00:00-05:00')).toMatchObject({ kept: [] });
  });

  it('takes the latest of two levels of one well', () => {
    const again = level('MW-1', '2026-05-04T09:00:00-05:00');
    expect(levelsOfRound([first, again, second], 24)).toEqual({
      kept: [again, second],
      excluded: [{ level: first, because: 'MW-1 at 2026-05-04T08:00:00-05:00 was measured again within the round' }],
    });
  });

  it('counts wells and not levels', () => {
    const many = ['10', '11', '12'].map((hour) => level('MW-9', `2026-05-01T${hour}:00:00Z`));
    expect(levelsOfRound([...many, first, second], 24)).toMatchObject({ kept: [first, second] });
  });

  it('gives one answer for any order, and keeps or leaves out each level once', () => {
    const some = fc.uniqueArray(
      fc.record({ well: fc.constantFrom('A', 'B', 'C', 'D'), hour: fc.integer({ min: 0, max: 95 }) }),
      { selector: ({ well, hour }) => `${well}${hour}`, maxLength: 12 },
    );
    fc.assert(
      fc.property(some, fc.integer({ min: 1, max: 48 }), (list, span) => {
        const levels = list.map(({ well, hour }) => level(well, new Date(hour * 3_600_000).toISOString()));
        const round = levelsOfRound(levels, span);
        expect(levelsOfRound(levels.toReversed(), span)).toEqual(round);
        if (isRefusal(round)) throw new Error(round.refused);
        expect(round.kept.length + round.excluded.length).toBe(levels.length);
        const times = round.kept.map((one) => Date.parse(one.at));
        if (times.length > 0) expect(Math.max(...times) - Math.min(...times)).toBeLessThanOrEqual(span * 3_600_000);
      }),
    );
  });

  it('of nothing is empty, and of no span is refused', () => {
    expect(levelsOfRound([], 24)).toEqual({ kept: [], excluded: [] });
    expect(why(levelsOfRound([first], 0))).toContain('no levels in it');
    expect(why(levelsOfRound([first], Number.NaN))).toContain('no levels in it');
  });
});

describe('vertical gradient', () => {
  const given = {
    upperHeadFt: 100.2,
    lowerHeadFt: 100.5,
    upperMiddleElevationFt: 80,
    lowerMiddleElevationFt: 50,
    levelErrorFt: 0.01,
  };

  it('is upward where the deeper head is the higher', () => {
    expect(verticalGradient(given)).toMatchObject({ gradient: expect.closeTo(0.01, 12) });
    expect(verticalGradient({ ...given, lowerHeadFt: 99.9 })).toMatchObject({ gradient: expect.closeTo(-0.01, 12) });
  });

  it('carries the errors of both levels', () => {
    expect(verticalGradient(given)).toMatchObject({ gradientError: expect.closeTo(Math.hypot(0.01, 0.01) / 30, 12) });
  });

  it('turns its sign when the wells change places in head', () => {
    const head = fc.double({ min: 0, max: 900, noNaN: true });
    fc.assert(
      fc.property(head, head, (upperHeadFt, lowerHeadFt) => {
        const one = verticalGradient({ ...given, upperHeadFt, lowerHeadFt });
        const other = verticalGradient({ ...given, upperHeadFt: lowerHeadFt, lowerHeadFt: upperHeadFt });
        if (isRefusal(one) || isRefusal(other)) throw new Error('refused');
        expect(one.gradient + other.gradient).toBeCloseTo(0, 12);
      }),
    );
  });

  it.each([
    [{ lowerMiddleElevationFt: 80 }, 'not depths'],
    [{ upperHeadFt: Number.NaN }, 'no number'],
    [{ levelErrorFt: -1 }, 'level error'],
  ])('refuses %j', (part, reason) => {
    expect(why(verticalGradient({ ...given, ...part }))).toContain(reason);
  });
});
