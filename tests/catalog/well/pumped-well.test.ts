import { describe, expect, it } from 'vitest';
import { DRAWDOWN_RULES } from '../../../src/catalog/well/drawdown-rules.ts';
import { LOW_YIELD_STEPS } from '../../../src/catalog/well/low-yield-steps.ts';
import { PUMPING_RATE_RULES } from '../../../src/catalog/well/pumping-rate-rules.ts';

const every = [...DRAWDOWN_RULES, ...PUMPING_RATE_RULES, ...LOW_YIELD_STEPS];

describe('what is published on a well that is pumped', () => {
  it('has each id once in its list, a wording and a source that says when it is recalled', () => {
    for (const list of [DRAWDOWN_RULES, PUMPING_RATE_RULES, LOW_YIELD_STEPS])
      expect(new Set(list.map(({ id }) => id)).size).toBe(list.length);
    for (const { wording, source, verified } of every) {
      expect(wording.length).toBeGreaterThan(0);
      expect(source.includes('from memory')).toBe(!verified);
    }
  });

  it('is verified only where its figures are', () => {
    for (const { limit, verified } of DRAWDOWN_RULES) expect(limit?.verified ?? verified).toBe(verified);
    for (const { atLeast, atMost, verified } of PUMPING_RATE_RULES) {
      expect(atLeast?.verified ?? verified).toBe(verified);
      expect(atMost?.verified ?? verified).toBe(verified);
    }
  });

  it('gives every limit on drawdown a measure, and only those', () => {
    for (const { limit, measure } of DRAWDOWN_RULES) expect(limit === undefined).toBe(measure === undefined);
  });
});
