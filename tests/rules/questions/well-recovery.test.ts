import { describe, expect, it } from 'vitest';
import { wellRecovery } from '../../../src/rules/questions/well-recovery.ts';

const ask = (input: object) => wellRecovery.answer(wellRecovery.input.parse(input));
const both = {
  staticDepthToWaterFt: '20.00',
  lowestDepthToWaterFt: '30.00',
  depthToBottomFt: '40.0',
  depthToWaterFt: '24.00',
};

describe('has the well recovered?', () => {
  it('answers in both meanings of 80 %', () => {
    expect(ask(both)).toMatchObject({
      drawdownRecoveredPercent: '60.0',
      columnRecoveredPercent: '80.0',
      limitReached: null,
      minutesToLimitMin: null,
    });
  });

  it('compares the limit in the meaning of the plan, and leaves it open where the plan has none', () => {
    expect(ask({ ...both, limitPercent: '80', limitOf: 'drawdown' }).limitReached).toBe(false);
    expect(ask({ ...both, limitPercent: '80', limitOf: 'water-column' }).limitReached).toBe(true);
    expect(ask({ ...both, limitPercent: '80' }).limitReached).toBeNull();
    expect(ask({ ...both, limitPercent: '50' }).limitReached).toBe(true);
    expect(ask({ ...both, limitPercent: '90' }).limitReached).toBe(false);
  });

  it('answers in one meaning where the other lacks a depth', () => {
    const drawdown = ask({ ...both, depthToBottomFt: undefined, limitPercent: '80' });
    expect(drawdown).toMatchObject({
      drawdownRecoveredPercent: '60.0',
      columnRecoveredPercent: null,
      limitReached: null,
    });
    expect(drawdown.reasons[1]).toContain('needs the depth to the bottom');
    const column = ask({ ...both, lowestDepthToWaterFt: undefined, limitPercent: '80', limitOf: 'drawdown' });
    expect(column).toMatchObject({
      drawdownRecoveredPercent: null,
      columnRecoveredPercent: '80.0',
      limitReached: null,
    });
  });

  it('refuses where neither can be told', () => {
    const answer = ask({ staticDepthToWaterFt: '20.00', depthToWaterFt: '24.00' });
    expect(answer.refused).toContain('needs the lowest level');
    expect(answer.refused).toContain('needs the depth to the bottom');
    expect(ask({ ...both, depthToBottomFt: '23.0', lowestDepthToWaterFt: '19' }).drawdownRecoveredPercent).toBeNull();
  });

  it('forecasts when the limit is reached', () => {
    const rising = { ...both, earlierDepthToWaterFt: '28.00', minutesSinceEarlierMin: '10', limitPercent: '80' };
    expect(ask(rising).minutesToLimitMin).toBe('10');
    expect(ask({ ...rising, limitPercent: '60' }).minutesToLimitMin).toBe('0');
    const flat = ask({ ...rising, earlierDepthToWaterFt: '24.00' });
    expect(flat.minutesToLimitMin).toBeNull();
    expect(flat.reasons.at(-1)).toContain('does not rise');
    expect(ask({ ...rising, limitPercent: undefined }).reasons.at(-1)).toContain('needs the limit');
    expect(ask({ ...rising, lowestDepthToWaterFt: undefined }).reasons.at(-1)).toContain('needs the limit');
    expect(ask({ ...rising, minutesSinceEarlierMin: undefined }).reasons).toHaveLength(2);
  });
});
