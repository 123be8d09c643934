import { describe, expect, it } from 'vitest';
import { whichWellInput, whichWellOutput } from '../../src/rules/which-well-shape.ts';

describe('the question which well of a nest this is', () => {
  it('takes a sounded depth as a decimal text and nothing else', () => {
    expect(whichWellInput.parse({ depthToBottomFt: '61.60' })).toEqual({ depthToBottomFt: '61.60' });
    for (const given of [
      {},
      { depthToBottomFt: 61.6 },
      { depthToBottomFt: 'deep' },
      { depthToBottomFt: '1', more: 1 },
    ]) {
      expect(whichWellInput.safeParse(given).success).toBe(false);
    }
  });

  it('is answered with what fits, and with another well only where there is one', () => {
    const answer = { fits: 'none', sentence: 'No well of the nest is so deep.' };
    expect(whichWellOutput.parse(answer)).toEqual(answer);
    expect(whichWellOutput.safeParse({ ...answer, fits: 'perhaps' }).success).toBe(false);
  });
});
