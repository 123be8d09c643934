import { describe, expect, it } from 'vitest';
import { purgeForecastInput, purgeForecastOutput } from '../../../src/rules/forecast/purge-forecast-shape.ts';
import { DEFAULT_HORIZON_MIN, LONGEST_HORIZON_MIN } from '../../../src/rules/forecast/readings-to-come.ts';

describe('the question how a running purge will go on', () => {
  it('looks ahead as far as usual where nothing is said, and reads the texts of an address', () => {
    expect(purgeForecastInput.parse({})).toEqual({ withinMin: DEFAULT_HORIZON_MIN, marginFt: '0' });
    expect(purgeForecastInput.parse({ withinMin: '15', marginFt: '0.5' })).toEqual({ withinMin: 15, marginFt: '0.5' });
  });

  it.each([0, 1.5, LONGEST_HORIZON_MIN + 1, 'soon'])('does not look ahead %s minutes', (withinMin) => {
    expect(purgeForecastInput.safeParse({ withinMin }).success).toBe(false);
  });

  it('says in each part why nothing is foreseen, or null', () => {
    for (const part of ['stabilization', 'levels'] as const) {
      const { refused } = purgeForecastOutput.shape[part].shape;
      expect(refused.parse(null)).toBeNull();
      expect(refused.parse('too few readings')).toBe('too few readings');
      expect(refused.safeParse(undefined).success).toBe(false);
    }
  });
});
