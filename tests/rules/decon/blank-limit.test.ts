import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isSameAnalyte } from '../../../src/rules/decon/analyte-key.ts';
import type { AnalyteResult } from '../../../src/rules/decon/analyte-result.ts';
import { judgeAgainstBlank, judgeAgainstBlanks } from '../../../src/rules/decon/blank-limit.ts';

const found = (value: string, unit = 'ug/L', more: Partial<AnalyteResult> = {}): AnalyteResult => ({
  analyte: 'Trichloroethene',
  casNumber: '79-01-6',
  value,
  unit,
  condition: 'detected',
  ...more,
});
const none = (more: Partial<AnalyteResult> = {}): AnalyteResult =>
  found('', 'ug/L', { value: null, condition: 'not-detected', ...more });
const below = (more: Partial<AnalyteResult> = {}): AnalyteResult =>
  found('', 'ug/L', { value: null, condition: 'below-reporting-limit', ...more });

const standing = (blank: AnalyteResult, sample: AnalyteResult | undefined) => judgeAgainstBlank(blank, sample).standing;

// US DoD, Data Validation Guidelines, revised table A, 9 Feb 2022, rows 1 to 3, read in a copy
describe('a blank at 0.8 µg/L, five times of which is 4.0 µg/L', () => {
  const blank = found('0.8');

  it.each([
    [none(), 'cleared'],
    [found('3.0'), 'in-question'],
    [found('4.0'), 'in-question'],
    [found('4.1'), 'cleared'],
  ] as const)('%j is %s', (sample, expected) => {
    expect(judgeAgainstBlank(blank, sample)).toMatchObject({
      standing: expected,
      limit: '4.0',
      factor: '5',
      verified: true,
    });
  });

  it('says why', () => {
    expect(judgeAgainstBlank(blank, found('4.1')).sentence).toBe(
      "Trichloroethene: 4.1 µg/L is above 4.0 µg/L, 5 times the blank's 0.8 µg/L.",
    );
    expect(judgeAgainstBlank(blank, found('4.0')).sentence).toBe(
      "Trichloroethene: 4.0 µg/L is not above 4.0 µg/L, 5 times the blank's 0.8 µg/L.",
    );
  });

  it.each([
    ['4000', 'ng/L', 'in-question'],
    ['4001', 'ng/L', 'cleared'],
    ['0.004', 'mg/L', 'in-question'],
    ['0.0041', 'mg/l', 'cleared'],
    ['4.0', 'µg/L', 'in-question'],
    ['4.1', 'μg/l', 'cleared'],
    ['4.1', 'UG/L', 'cleared'],
  ] as const)('%s %s is %s, exactly', (value, unit, expected) => {
    expect(standing(blank, found(value, unit))).toBe(expected);
  });

  it('0.1 of a blank in binary would be wrong: five times 0.1 is exactly 0.5', () => {
    expect(standing(found('0.1'), found('0.5'))).toBe('in-question');
    expect(standing(found('0.07'), found('0.35'))).toBe('in-question');
    expect(standing(found('0.07'), found('0.350001'))).toBe('cleared');
  });
});

describe('what was not detected, not analysed or only estimated', () => {
  it('a blank in which nothing was detected clears everything, and says where less would not have shown', () => {
    expect(standing(none(), found('1000'))).toBe('cleared');
    expect(standing(none(), undefined)).toBe('cleared');
    expect(judgeAgainstBlank(none({ reportingLimit: '5' }), found('1.2')).sentence).toContain(
      'less would not have shown',
    );
    expect(judgeAgainstBlank(none({ reportingLimit: '0.5' }), found('1.2')).sentence).not.toContain('less would');
  });

  it('a sample that was not analysed for it cannot be told, nor can a blank that was not', () => {
    expect(standing(found('0.8'), undefined)).toBe('cannot-tell');
    expect(standing(found('0.8'), found('9', 'ug/L', { condition: 'not-reported' }))).toBe('cannot-tell');
    expect(standing(found('0.8', 'ug/L', { condition: 'not-reported' }), found('9'))).toBe('cannot-tell');
  });

  it('an estimated value of a blank counts, and is said to be estimated', () => {
    const answer = judgeAgainstBlank(below({ value: '0.3', reportingLimit: '1.0' }), found('1.5'));
    expect(answer).toMatchObject({ standing: 'in-question', limit: '1.5', isEstimated: true });
    expect(answer.sentence).toContain('estimated: below its reporting limit');
  });

  it('a blank below its reporting limit without a figure clears only what is above five times that limit', () => {
    const blank = below({ reportingLimit: '1.0' });
    expect(standing(blank, found('5.1'))).toBe('cleared');
    expect(standing(blank, found('5.0'))).toBe('cannot-tell');
    expect(standing(blank, none())).toBe('cleared');
    expect(standing(below(), found('5.1'))).toBe('cannot-tell');
    expect(standing(blank, found('5.1', 'pCi/L'))).toBe('cannot-tell');
  });

  it('a sample below its reporting limit without a figure is in question where that limit is', () => {
    expect(standing(found('0.8'), below({ reportingLimit: '4.0' }))).toBe('in-question');
    expect(standing(found('0.8'), below({ reportingLimit: '4.1' }))).toBe('cannot-tell');
    expect(standing(found('0.8'), below())).toBe('cannot-tell');
    expect(standing(found('0.8'), below({ reportingLimit: '1', unit: 'pCi/L' }))).toBe('cannot-tell');
  });

  it('a detection without a figure, or with one that is no number, cannot be told', () => {
    expect(standing(found('0.8'), found('', 'ug/L', { value: null }))).toBe('cannot-tell');
    expect(standing(found('', 'ug/L', { value: null }), found('9'))).toBe('cannot-tell');
    expect(standing(found('0.8'), found('1e3'))).toBe('cannot-tell');
  });

  it('units that measure different things cannot be compared; the same unknown unit on both sides can', () => {
    expect(standing(found('0.8'), found('3', 'pCi/L'))).toBe('cannot-tell');
    expect(standing(found('0.8'), found('3', '[ppb]'))).toBe('cannot-tell');
    expect(standing(found('0.8', 'pCi/L'), found('4.1', 'pCi/L'))).toBe('cleared');
  });

  it('another analyte is not compared', () => {
    expect(standing(found('0.8'), found('3', 'ug/L', { casNumber: '127-18-4' }))).toBe('cannot-tell');
    expect(
      standing(found('0.8', 'ug/L', { casNumber: null }), found('3', 'ug/L', { analyte: 'TRICHLOROETHENE' })),
    ).toBe('in-question');
  });
});

describe('common laboratory contaminants', () => {
  const acetone = { analyte: 'Acetone', casNumber: '67-64-1' };

  it('have no factor of their own in the table of 2022', () => {
    expect(judgeAgainstBlank(found('2', 'ug/L', acetone), found('11', 'ug/L', acetone)).standing).toBe('cleared');
  });

  it('had ten times in older guidelines, which are from memory', () => {
    const answer = (value: string) =>
      judgeAgainstBlank(found('2', 'ug/L', acetone), found(value, 'ug/L', acetone), 'national-guidelines-older');
    expect(answer('20')).toMatchObject({ standing: 'in-question', factor: '10', verified: false });
    expect(answer('21').standing).toBe('cleared');
    expect(judgeAgainstBlank(found('2'), found('11'), 'national-guidelines-older').standing).toBe('cleared');
  });
});

describe('several blanks', () => {
  it('one that puts it in question is enough; one that cannot be told keeps it from being cleared', () => {
    const [high, low, unread] = [found('0.8'), found('0.1'), found('', 'ug/L', { value: null })];
    expect(judgeAgainstBlanks([low, high], found('3.0'))?.standing).toBe('in-question');
    expect(judgeAgainstBlanks([low, unread], found('3.0'))?.standing).toBe('cannot-tell');
    expect(judgeAgainstBlanks([low, none()], found('3.0'))?.standing).toBe('cleared');
    expect(judgeAgainstBlanks([], found('3.0'))).toBeUndefined();
  });
});

/** In whole femtograms, which every value of up to six places in these units is: an arithmetic of its own. */
const FEMTOGRAMS = { 'mg/L': 1_000_000_000_000n, 'ug/L': 1_000_000_000n, 'ng/L': 1_000_000n } as const;
type Mass = keyof typeof FEMTOGRAMS;

function femtograms(millionths: bigint, unit: Mass): bigint {
  return (millionths * FEMTOGRAMS[unit]) / 1_000_000n;
}

function text(millionths: bigint): string {
  const digits = String(millionths).padStart(7, '0');
  return `${digits.slice(0, -6)}.${digits.slice(-6)}`;
}

describe('whatever the figures', () => {
  const millionths = fc.bigInt({ min: 1n, max: 10_000_000_000n });
  const unit = fc.constantFrom<Mass>('mg/L', 'ug/L', 'ng/L');

  it('it is in question exactly up to five times the blank, by whole numbers', () => {
    fc.assert(
      fc.property(millionths, unit, millionths, unit, (ofBlank, blankUnit, ofSample, sampleUnit) => {
        const isUpTo = femtograms(ofSample, sampleUnit) <= 5n * femtograms(ofBlank, blankUnit);
        expect(standing(found(text(ofBlank), blankUnit), found(text(ofSample), sampleUnit))).toBe(
          isUpTo ? 'in-question' : 'cleared',
        );
      }),
    );
  });

  it('at the limit itself it is in question, and one step above it is cleared', () => {
    fc.assert(
      fc.property(millionths, unit, (ofBlank, of) => {
        const blank = found(text(ofBlank), of);
        expect(standing(blank, found(text(5n * ofBlank), of))).toBe('in-question');
        expect(standing(blank, found(text(5n * ofBlank + 1n), of))).toBe('cleared');
      }),
    );
  });

  it('the order of the blanks makes no difference', () => {
    const blank = fc.oneof(
      millionths.map((value) => found(text(value))),
      fc.constant(none()),
      fc.constant(below({ reportingLimit: '1' })),
    );
    const blanks = fc.array(blank, { minLength: 1, maxLength: 6 });
    const pair = blanks.chain((list) =>
      fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length })),
    );
    fc.assert(
      fc.property(pair, millionths, ([list, shuffled], value) => {
        const sample = found(text(value));
        expect(judgeAgainstBlanks(shuffled, sample)).toEqual(judgeAgainstBlanks(list, sample));
      }),
    );
  });
});

describe('one analyte', () => {
  it('is one with and without spaces around its name, as everywhere', () => {
    const blank = { analyte: ' Benzene', unit: 'ug/L', value: '0.8', condition: 'detected' } as const;
    const sample = { analyte: 'benzene ', unit: 'ug/L', value: '3.0', condition: 'detected' } as const;
    expect(judgeAgainstBlank(blank, sample).standing).toBe('in-question');
    expect(isSameAnalyte(blank, sample)).toBe(true);
  });
});
