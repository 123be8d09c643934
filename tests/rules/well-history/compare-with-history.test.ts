import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareWithHistory, LEAST_ROUNDS, standsApart } from '../../../src/rules/well-history/compare-with-history.ts';
import {
  HISTORY_QUANTITIES,
  type HistoryField,
  type HistoryQuantity,
} from '../../../src/rules/well-history/history-quantities.ts';

function quantity(field: HistoryField): HistoryQuantity {
  const found = HISTORY_QUANTITIES.find((one) => one.field === field);
  if (found === undefined) throw new Error(`there is no quantity ${field}`);
  return found;
}

const LEVELS = ['12.04', '12.31', '11.87', '12.60', '12.22', '11.95', '12.41', '12.10'];
const PH = ['6.90', '6.95', '6.88', '7.02', '6.93', '6.97', '6.91', '6.99'];
const CONDUCTANCE = ['612', '598', '605', '640', '618', '601', '622', '609'];

const finding = (field: HistoryField, now: string, earlier: readonly string[]) =>
  compareWithHistory(quantity(field), now, earlier).finding;

describe('unlike this well', () => {
  it('asks about water, bottom, pH and specific conductance and about nothing else', () => {
    expect(HISTORY_QUANTITIES.map((one) => one.field)).toEqual([
      'depthToBottomFt',
      'depthToWaterFt',
      'ph',
      'specificConductanceUsPerCm',
    ]);
  });

  it('notices the water of the other well of a nest', () => {
    const answer = compareWithHistory(quantity('depthToWaterFt'), '31.22', LEVELS);
    expect(answer).toMatchObject({ field: 'depthToWaterFt', finding: 'unlike', earlierRounds: 8 });
    expect(answer.sentence).toBe(
      'Depth to water 31.22 ft is unlike this well: 8 earlier rounds gave 11.87 to 12.6 ft.',
    );
    expect(answer.checks[0]).toContain('Measure again');
  });

  it('finds the same value like this well, inside its range or near it', () => {
    for (const now of ['12.04', '12.60', '13.90', '10.30'])
      expect(compareWithHistory(quantity('depthToWaterFt'), now, LEVELS)).toMatchObject({
        finding: 'like',
        checks: [],
      });
  });

  it('asks nothing with fewer rounds, however odd the value, and says why', () => {
    const answer = compareWithHistory(quantity('ph'), '11.90', PH.slice(0, LEAST_ROUNDS - 1));
    expect(answer).toMatchObject({ finding: 'too-few-rounds', earlierRounds: 7, checks: [] });
    expect(answer.sentence).toContain('7 earlier round(s) are known');
    expect(finding('ph', '11.90', PH)).toBe('unlike');
  });

  it('does not ask about a difference that does not matter, exactly at it included', () => {
    expect(finding('ph', '7.44', PH)).toBe('like');
    expect(finding('ph', '7.45', PH)).toBe('unlike');
    const flat = Array.from({ length: 8 }, () => '7.00');
    expect(finding('ph', '7.50', flat)).toBe('like');
    expect(finding('ph', '7.51', flat)).toBe('unlike');
  });

  it('where the MAD is 0 lets the difference that matters decide, instead of calling everything infinitely far', () => {
    const flat = ['25.3', '25.3', '25.3', '25.3', '25.3', '25.3', '25.2', '25.4'];
    expect(finding('depthToBottomFt', '25.8', flat)).toBe('like');
    expect(finding('depthToBottomFt', '25.9', flat)).toBe('unlike');
    expect(finding('depthToBottomFt', '23.0', flat)).toBe('unlike');
  });

  it('needs both robust measures: one of them alone does not ask', () => {
    const twoKinds = ['5.0', '5.0', '5.1', '5.1', '9.0', '9.0', '9.1', '9.1'];
    expect(finding('ph', '9.8', twoKinds)).toBe('like');
    const skewed = ['7.00', '7.01', '7.02', '7.00', '7.03', '6.00', '8.20', '8.30'];
    expect(finding('ph', '8.50', skewed)).toBe('like');
  });

  it('is not misled by one bad round among the earlier ones', () => {
    const earlier = [...LEVELS, '99.99'];
    expect(finding('depthToWaterFt', '131.22', earlier)).toBe('unlike');
    expect(finding('depthToWaterFt', '12.50', earlier)).toBe('like');
  });

  it('recognises a slip of units', () => {
    const checks = (field: HistoryField, now: string, earlier: readonly string[]) =>
      compareWithHistory(quantity(field), now, earlier).checks.join(' ');
    expect(checks('specificConductanceUsPerCm', '0.61', CONDUCTANCE)).toContain('if the meter showed mS/cm');
    expect(checks('specificConductanceUsPerCm', '612000', CONDUCTANCE)).toContain('converted once too often');
    expect(checks('specificConductanceUsPerCm', '900', CONDUCTANCE)).not.toContain('mS/cm');
    expect(checks('depthToWaterFt', '3.75', LEVELS)).toContain('if the tape read metres');
  });

  it('does not see the order of the rounds, nor a shift of the whole well', () => {
    const value = fc.integer({ min: 500, max: 3_000 }).map((hundredths) => (hundredths / 100).toFixed(2));
    const shifted = (text: string) => (Number(text) + 20).toFixed(2);
    fc.assert(
      fc.property(fc.array(value, { minLength: 8, maxLength: 14 }), value, (earlier, now) => {
        const own = finding('depthToWaterFt', now, earlier);
        expect(finding('depthToWaterFt', now, earlier.toReversed())).toBe(own);
        expect(finding('depthToWaterFt', shifted(now), earlier.map(shifted))).toBe(own);
      }),
    );
  });

  it('never asks about a value that an earlier round gave', () => {
    const value = fc.integer({ min: 400, max: 1_000 }).map((hundredths) => (hundredths / 100).toFixed(2));
    fc.assert(
      fc.property(fc.array(value, { minLength: 8, maxLength: 14 }), fc.nat(7), (earlier, at) => {
        expect(finding('ph', earlier[at] ?? '', earlier)).toBe('like');
      }),
    );
  });
});

describe('a history that cannot be read', () => {
  it('asks nothing: there is nothing to be unlike', () => {
    expect(standsApart(quantity('ph'), 7_000_000, [])).toBe(false);
  });
});

describe('why eight rounds', () => {
  /** How often a value of the same normal kind as its history is asked about where every difference matters. */
  function askedInVain(rounds: number): number {
    const everyDifference: HistoryQuantity = { ...quantity('ph'), leastDifference: () => 0 };
    let state = 20_260_504;
    const draw = () => {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      return (state + 0.5) / 2 ** 32;
    };
    const value = () => 1e6 * (100 + Math.sqrt(-2 * Math.log(draw())) * Math.cos(2 * Math.PI * draw()));
    let asked = 0;
    for (let time = 0; time < 8_000; time += 1)
      if (standsApart(everyDifference, value(), Array.from({ length: rounds }, value))) asked += 1;
    return asked / 8_000;
  }

  it('eight ask in vain about 1 time in 40 even if every difference mattered, five 1 in 20', () => {
    const eight = askedInVain(8);
    expect(eight).toBeGreaterThan(0.015);
    expect(eight).toBeLessThan(0.035);
    expect(askedInVain(5)).toBeGreaterThan(0.035);
    expect(askedInVain(6)).toBeGreaterThan(0.035);
    expect(askedInVain(16)).toBeLessThan(eight);
  });
});
