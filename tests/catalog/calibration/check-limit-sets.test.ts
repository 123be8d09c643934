import { describe, expect, it } from 'vitest';
import {
  CHECK_LIMIT_SET_IDS,
  CHECK_LIMIT_SETS,
  figuresOfLimit,
} from '../../../src/catalog/calibration/check-limit-sets.ts';
import { DRIFT_LIMITS, ORP_SOLUTION_WITHIN_C } from '../../../src/catalog/calibration/drift-limits.ts';
import { PH_SLOPE_LIMITS } from '../../../src/catalog/calibration/ph-slope-limits.ts';
import { PARAMETERS } from '../../../src/catalog/parameters.ts';

describe('limits of calibration checks', () => {
  it.each(CHECK_LIMIT_SET_IDS)('%s stands under its name, with issuer, document and source', (id) => {
    const set = CHECK_LIMIT_SETS[id];
    expect(set.id).toBe(id);
    for (const part of [set.issuer, set.document, set.edition, set.dated, set.source, set.bracketSource])
      expect(part.length).toBeGreaterThan(3);
  });

  it.each(CHECK_LIMIT_SET_IDS)(
    '%s has a limit for every parameter of a purge, and says with which value it compares',
    (id) => {
      const { limits } = CHECK_LIMIT_SETS[id];
      for (const parameter of PARAMETERS) expect(limits.some((limit) => limit.parameter === parameter)).toBe(true);
      for (const limit of limits) expect(limit.basis.why.length).toBeGreaterThan(10);
    },
  );

  it.each(CHECK_LIMIT_SET_IDS)('%s gives no figure as read that was recalled', (id) => {
    const figures = CHECK_LIMIT_SETS[id].limits.flatMap(figuresOfLimit);
    expect(figures.length).toBeGreaterThan(6);
    for (const figure of figures) {
      expect(figure.verified).toBe(false);
      expect(figure.status).toContain('from memory');
      expect(Number(figure.value)).toBeGreaterThanOrEqual(0);
    }
  });

  it('asks the span of standards where the training material was read, and nowhere else', () => {
    const required = CHECK_LIMIT_SET_IDS.filter((id) => CHECK_LIMIT_SETS[id].span === 'required');
    expect(required).toEqual(['florida-field-testing']);
    expect(CHECK_LIMIT_SETS['florida-field-testing'].startBy).toBe('check');
  });
});

describe('other limits', () => {
  it('of drift and of the ORP solution name the page on which they were read', () => {
    for (const { most, source } of [...DRIFT_LIMITS, ORP_SOLUTION_WITHIN_C]) {
      expect(most.verified).toBe(true);
      expect(source).toMatch(/^county file, doc \d+, page \d+$/);
    }
  });

  it('of the slope tell the one that was read from the one that was recalled', () => {
    expect(PH_SLOPE_LIMITS.map(({ leastPercent }) => [leastPercent.value, leastPercent.verified])).toEqual([
      ['95', false],
      ['85', true],
    ]);
  });
});
