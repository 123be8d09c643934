import { describe, expect, it } from 'vitest';
import { fromMemory, seen } from '../../../src/catalog/figures.ts';
import { answered, figure, figureSource, unanswered } from '../../../src/rules/questions/answered.ts';
import { refuse } from '../../../src/science/refusal.ts';

describe('the parts of an answer', () => {
  it('name a figure of the catalog with its source, or say that it has none', () => {
    expect(figureSource(seen('24', 'SOP 2043'))).toBe('24: SOP 2043 (seen)');
    expect(figureSource(fromMemory('2', 'high'))).toBe('2: no source (from memory, high confidence)');
  });

  it('either answer or refuse, never both', () => {
    expect(answered(['because'], ['source'])).toEqual({
      refused: null,
      reasons: ['because'],
      cautions: [],
      sources: ['source'],
    });
    expect(unanswered(refuse('give more'), ['source'])).toEqual({
      refused: 'give more',
      reasons: [],
      cautions: [],
      sources: ['source'],
    });
  });

  it('have figures that may be missing', () => {
    expect(figure('of anything').parse(null)).toBeNull();
    expect(figure('of anything').description).toBe('of anything');
  });
});
