import { describe, expect, it } from 'vitest';
import { unlikeThisWell } from '../../../src/rules/questions/unlike-this-well.ts';

const ask = (input: object) => unlikeThisWell.answer(unlikeThisWell.input.parse(input));
const earlierRounds = [12.0, 12.1, 12.2, 12.3, 12.0, 12.4, 12.1, 12.2].map((depth, at) => ({
  depthToWaterFt: depth.toFixed(2),
  ...(at < 3 ? { ph: '7.00' } : {}),
}));

describe('is this unlike this well?', () => {
  it('asks about the water of another well, and says that it is only a question', () => {
    const answer = ask({ depthToWaterFt: '31.22', earlierRounds });
    expect(answer.unlike).toBe(true);
    expect(answer.comparisons[0]).toMatchObject({ field: 'depthToWaterFt', finding: 'unlike', earlierRounds: 8 });
    expect(answer.cautions[0]).toContain('It is a question');
    expect(answer.reasons).toEqual(answer.comparisons.map((one) => one.sentence));
  });

  it('has nothing to ask about an ordinary value', () => {
    expect(ask({ depthToWaterFt: '12.25', earlierRounds })).toMatchObject({ unlike: false, cautions: [] });
  });

  it('counts the rounds of each quantity: pH was measured in three of them only', () => {
    const answer = ask({ depthToWaterFt: '12.25', ph: '3.00', earlierRounds });
    expect(answer.unlike).toBe(false);
    expect(answer.comparisons.map((one) => [one.finding, one.earlierRounds])).toEqual([
      ['like', 8],
      ['too-few-rounds', 3],
    ]);
    expect(ask({ ph: '3.00', earlierRounds })).toMatchObject({ unlike: null, refused: null });
  });

  it('refuses where nothing was measured that it compares, and does not take what it does not compare', () => {
    expect(ask({ earlierRounds })).toMatchObject({ unlike: null, comparisons: [] });
    expect(ask({ earlierRounds }).refused).toContain('Nothing was measured');
    expect(unlikeThisWell.input.safeParse({ turbidityNtu: '900', earlierRounds }).success).toBe(false);
  });
});
