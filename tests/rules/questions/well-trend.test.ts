import { describe, expect, it } from 'vitest';
import { wellTrend } from '../../../src/rules/questions/well-trend.ts';
import { MONTHLY, SULFATE } from '../../science/history/published-rows.ts';

const ask = (input: object) => wellTrend.answer(wellTrend.input.parse(input));
const yearly = (amounts: readonly string[]) =>
  amounts.map((amount, year) => ({ at: `${2010 + year}-05-04T10:00:00-05:00`, amount }));
const raw = { unit: 'ppm', scale: 'raw' } as const;
const sulfate = SULFATE.map(({ date, ppm }) => ({ at: date, amount: String(ppm) }));
const monthly = MONTHLY.map((value, at) => ({
  at: `${1983 + Math.floor(at / 12)}-${String((at % 12) + 1).padStart(2, '0')}-15T12:00:00Z`,
  amount: String(value),
  season: `month ${(at % 12) + 1}`,
}));

describe('does it rise or fall in this well?', () => {
  it('US EPA, Unified Guidance 2009, Example 17-6 with true dates: S 194, 26.49 ppm a year', () => {
    const answer = ask({ ...raw, rounds: sulfate });
    expect(answer).toMatchObject({
      direction: 'rising',
      s: 194,
      z: '5.107',
      tau: '0.7668',
      p: '0.0000003268',
      slopePerYear: '26.49',
      slopeUnit: 'ppm a year',
      heterogeneityP: null,
      refused: null,
    });
    expect(answer.method).toBe('Mann-Kendall, normal, with corrections for ties and continuity, two-sided');
    expect(Number(answer.slopePerYearFrom)).toBeLessThan(26.49);
    expect(Number(answer.slopePerYearTo)).toBeGreaterThan(26.49);
    expect(ask({ ...raw, rounds: sulfate.toReversed() })).toEqual(answer);
  });

  it('the same, Example 14-10 by month: z 5.185, 0.06 a year, the months tell of one trend', () => {
    const answer = ask({ ...raw, rounds: monthly });
    expect(answer).toMatchObject({ direction: 'rising', z: '5.185', tau: null, slopeUnit: 'ppm a year' });
    expect(Number(answer.slopePerYear)).toBeCloseTo(0.06, 3);
    expect(Number(answer.heterogeneityP)).toBeGreaterThan(0.99);
    expect(answer.reasons).toContain('The seasons do not contradict each other.');
  });

  it('warns where the seasons go different ways, and gives no ends where there are too few slopes', () => {
    const apart = Array.from({ length: 16 }, (_, at) => ({
      at: `${2000 + Math.floor(at / 2)}-0${at % 2 === 0 ? 4 : 9}-15T12:00:00Z`,
      amount: String(at % 2 === 0 ? 50 + at : 50 - at),
      season: at % 2 === 0 ? 'spring' : 'autumn',
    }));
    const answer = ask({ ...raw, rounds: apart });
    expect(answer.direction).toBe('none-shown');
    expect(answer.reasons.join(' ')).toContain('go different ways');
    const few = ask({ ...raw, rounds: apart.slice(0, 4) });
    expect(few).toMatchObject({ slopePerYearFrom: null, slopePerYearTo: null });
    expect(few.reasons.join(' ')).toContain('slopes are too few');
  });

  it('is exact up to ten values, and asks one side where told so', () => {
    const falling = ask({ ...raw, side: 'falling', rounds: yearly(['9', '8', '7', '6', '5']) });
    expect(falling).toMatchObject({ direction: 'falling', s: -10, z: null, p: '0.008333' });
    expect(Number(falling.slopePerYear)).toBeCloseTo(-1, 3);
    expect(falling.method).toBe('Mann-Kendall, exact, falling');
    const rising = ask({ ...raw, side: 'rising', rounds: yearly(['9', '8', '7', '6', '5']) });
    expect(rising).toMatchObject({ direction: 'none-shown', p: '1.000' });
  });

  it('four rounds can never show a trend at 5 % two-sided: it says so instead of "none"', () => {
    const four = ask({ ...raw, rounds: yearly(['1', '2', '3', '4']) });
    expect(four).toMatchObject({ direction: null, p: null, slopePerYear: null });
    expect(four.refused).toContain('4 values cannot show a trend at 0.05 (two-sided)');
    expect(four.refused).toContain('0.083');
    expect(ask({ ...raw, side: 'rising', rounds: yearly(['1', '2', '3', '4']) }).direction).toBe('rising');
    expect(ask({ ...raw, rounds: yearly(['1', '1', '1', '2', '3']) }).refused).toContain('some of them alike');
    expect(ask({ ...raw, significancePercent: '10', rounds: yearly(['1', '2', '3', '4']) }).direction).toBe('rising');
  });

  it('on the log scale gives the slope in percent a year, and the same test', () => {
    const growing = yearly(['100', '110', '121', '133.1', '146.41', '161.051']);
    const logs = ask({ unit: 'ppm', scale: 'log', rounds: growing });
    expect(logs.slopeUnit).toBe('% a year');
    expect(Number(logs.slopePerYear)).toBeCloseTo(10, 1);
    expect([logs.s, logs.p]).toEqual([ask({ ...raw, rounds: growing }).s, ask({ ...raw, rounds: growing }).p]);
    expect(ask({ unit: 'ppm', scale: 'log', rounds: yearly(['1', '0', '2', '3', '4']) }).refused).toContain(
      'no logarithm',
    );
  });

  it('ties non-detects below the highest limit, and says what they leave of the slope', () => {
    const rounds = yearly(['5', '3', '9', '12', '14', '17', '20', '22', '26', '29', '33']).map((one, at) =>
      at === 0 ? { ...one, nonDetect: true } : one,
    );
    const answer = ask({ ...raw, rounds });
    expect(answer.direction).toBe('rising');
    expect(answer.reasons[1]).toBe(
      '1 non-detect(s) are tied below the highest limit. 1 measured value(s) below the highest limit count as ties too.',
    );
    expect(answer.slopePerYear).toBeNull();
    expect(Number(answer.slopePerYearFrom)).toBeLessThan(Number(answer.slopePerYearTo));
    expect(answer.reasons.at(-1)).toContain('no confidence interval');
    const half = rounds.map((one, at) => (at < 5 ? { ...one, amount: '14', nonDetect: true } : one));
    const open = ask({ ...raw, rounds: half });
    expect(open).toMatchObject({ direction: 'rising', slopePerYear: null, slopePerYearFrom: null });
    expect(open.reasons.at(-1)).toContain('more than 20 %');
  });

  it('gives the slope where no value of a non-detect could move it, on either scale', () => {
    const steady = [1, 10, 20, 30, 40, 50].map((amount, at) => ({
      at: new Date(Date.UTC(2010, 0, 1) + at * 365.25 * 86_400_000).toISOString(),
      amount: String(amount),
      nonDetect: at === 0,
    }));
    const answer = ask({ ...raw, rounds: steady });
    expect(answer).toMatchObject({ slopePerYear: '10.00', slopePerYearFrom: '10.00', slopePerYearTo: '10.00' });
    expect(answer.reasons).toContain('Whatever the non-detects are, the slope is the same.');
    expect(answer.reasons[1]).toBe('1 non-detect(s) are tied below the highest limit.');
    expect(ask({ unit: 'ppm', scale: 'log', rounds: steady }).slopeUnit).toBe('% a year');
  });

  it('refuses what it would have to guess', () => {
    const rounds = yearly(['1', '2', '3', '4', '5', '6']);
    const refused = (input: object) => ask({ ...raw, rounds, ...input }).refused;
    expect(refused({ rounds: [...rounds, { at: '2012-05-04T16:00:00-05:00', amount: '9' }] })).toContain('2012-05-04');
    expect(refused({ rounds: rounds.map((one, at) => (at === 2 ? { ...one, season: 'spring' } : one)) })).toContain(
      '1 of 6 rounds name their season',
    );
    for (const significancePercent of ['0', '-5', '51'])
      expect(refused({ significancePercent })).toContain('5 is usual');
    expect(refused({ rounds: [] })).toContain('too few');
    expect(refused({ rounds: rounds.slice(0, 1) })).toContain('too few');
    expect(refused({ rounds: yearly(['3', '3', '3', '3', '3', '3']) })).toContain('alike');
    expect(refused({ rounds: monthly.map((one, at) => (at === 0 ? { ...one, nonDetect: true } : one)) })).toContain(
      'measured values only',
    );
    expect(refused({ rounds: monthly.slice(0, 13) })).toContain('has 1 value(s)');
    expect(wellTrend.input.safeParse({ ...raw, rounds: [{ at: '89.6', amount: '480' }] }).success).toBe(false);
  });
});
