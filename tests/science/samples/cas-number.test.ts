import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BLANK_RULES } from '../../../src/catalog/decon/blank-rules.ts';
import { isCasNumber } from '../../../src/science/samples/cas-number.ts';

describe('a CAS number', () => {
  it.each(['7732-18-5', '71-43-2', '75-01-4', '123-91-1', '1763-23-1', '335-67-1', '7439-92-1'])(
    '%s has its digit',
    (number) => {
      expect(isCasNumber(number)).toBe(true);
    },
  );

  it('is so for all that the catalog holds', () => {
    const common = BLANK_RULES['national-guidelines-older'].common?.analytes ?? [];
    expect(common.length).toBeGreaterThan(0);
    expect(common.filter(({ casNumber }) => !isCasNumber(casNumber))).toEqual([]);
  });

  it.each(['7732-18-4', '7732185', '7732-18', '', '1-18-5', ' 7732-18-5', '７７３２-18-5'])('"%s" is none', (text) => {
    expect(isCasNumber(text)).toBe(false);
  });

  it('one check digit of ten fits', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1_000, max: 999_999_999 }), (body) => {
        const text = String(body);
        const number = (check: number) => `${text.slice(0, -2)}-${text.slice(-2)}-${check}`;
        expect([0, 1, 2, 3, 4, 5, 6, 7, 8, 9].filter((check) => isCasNumber(number(check)))).toHaveLength(1);
      }),
    );
  });
});
