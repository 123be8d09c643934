import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { qcCount } from '../../../src/science/samples/qc-count.ts';
import { replicateAgreement } from '../../../src/science/samples/replicate-agreement.ts';
import { relativePercentDifference } from '../../../src/science/samples/rpd.ts';
import { given, why } from './given.ts';

describe('relative percent difference', () => {
  it.each([
    ['10', '12', '18.18', true],
    ['10', '14', '33.33', false],
    ['100', '135', '29.79', true],
    ['100', '136', '30.51', false],
    ['0', '5', '200.00', false],
    ['7.10', '7.1', '0.00', true],
  ])('of %s and %s is %s %, within 30 %: %s', (first, second, percent, within) => {
    expect(relativePercentDifference(first, second, '30')).toEqual({ percent, within });
  });

  it('is compared exactly: 85 and 115 differ by 30 %, a millionth more does not pass though it reads the same', () => {
    expect(relativePercentDifference('85', '115', '30')).toEqual({ percent: '30.00', within: true });
    expect(relativePercentDifference('85', '115.000001', '30')).toEqual({ percent: '30.00', within: false });
  });

  it('does not mind the order nor the unit, and is between 0 and 200', () => {
    const results = fc.integer({ min: 1, max: 10_000_000 });
    fc.assert(
      fc.property(results, results, (a, b) => {
        const text = (n: number) => String(n);
        const one = given(relativePercentDifference(text(a), text(b), '30'));
        expect(relativePercentDifference(text(b), text(a), '30')).toEqual(one);
        expect(relativePercentDifference(`${a}000`, `${b}000`, '30')).toEqual(one);
        expect(Math.abs(Number(one.percent) - (100 * Math.abs(a - b)) / ((a + b) / 2))).toBeLessThanOrEqual(
          0.005_000_1,
        );
        expect(Number(one.percent)).toBeLessThanOrEqual(200);
      }),
    );
  });

  it('refuses two zeros, negative results and words', () => {
    expect(why(relativePercentDifference('0', '0.0', '30'))).toContain('reporting limit');
    expect(why(relativePercentDifference('-1', '2', '30'))).toContain('0 or more');
    expect(why(relativePercentDifference('<1', '2', '30'))).toContain('no plain decimal');
  });
});

describe('a sample and its replicate', () => {
  const limits = { rpdPercent: '30', lowBelowTimes: '5', lowWithinTimes: '1' };
  it.each([
    ['well above the limit: RPD', '10', '12', { by: 'rpd', figure: '18.18', within: true }],
    ['exactly five times is not low', '5', '8', { by: 'rpd', figure: '46.15', within: false }],
    ['one is low: the difference', '4.9', '5.9', { by: 'difference', figure: '1.0', within: true }],
    ['low and further apart than the limit', '3', '4.1', { by: 'difference', figure: '1.1', within: false }],
    ['one not detected', null, '1.8', { by: 'difference', figure: '0.8', within: true }],
    ['one not detected, the other high', '9', null, { by: 'difference', figure: '8', within: false }],
    ['neither detected says nothing', null, null, { by: 'both-undetected', figure: null, within: null }],
  ])('%s', (_what, first, second, expected) => {
    expect(replicateAgreement({ first, second, reportingLimit: '1' }, limits)).toEqual(expected);
  });

  it('refuses a limit of 0', () => {
    expect(why(replicateAgreement({ first: '1', second: '2', reportingLimit: '0' }, limits))).toContain('above 0');
  });
});

describe('how many QC samples', () => {
  it.each([
    [37, 10, 4],
    [37, 20, 2],
    [40, 20, 2],
    [41, 20, 3],
    [1, 20, 1],
    [0, 20, 0],
  ])('%i samples, one for each %i: %i', (samples, each, expected) => {
    expect(qcCount(samples, each)).toBe(expected);
  });

  it('is the least that covers all samples', () => {
    fc.assert(
      fc.property(fc.nat(5_000), fc.integer({ min: 1, max: 50 }), (samples, each) => {
        const count = given(qcCount(samples, each));
        expect(count * each >= samples && (count - 1) * each < samples).toBe(true);
      }),
    );
  });

  it('refuses halves and no frequency', () => {
    expect(why(qcCount(1.5, 10))).toContain('whole number');
    expect(why(qcCount(5, 0))).toContain('above 0');
  });
});
