import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { checkedStudentQuantile, studentQuantile } from '../../../src/science/forecast/student-quantile.ts';

describe("the quantile of Student's distribution", () => {
  // Abramowitz & Stegun 1964, table 26.10, from memory
  it.each([
    [1, 0.95, 12.706],
    [2, 0.95, 4.303],
    [3, 0.95, 3.182],
    [4, 0.9, 2.132],
    [10, 0.95, 2.228],
    [30, 0.99, 2.75],
    [120, 0.95, 1.98],
  ])('%i degrees of freedom at %f', (degreesOfFreedom, confidence, t) => {
    expect(studentQuantile(degreesOfFreedom, confidence)).toBeCloseTo(t, 3);
  });

  it('agrees with a general-purpose statistics library', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 200 }),
        fc.double({ min: 0.02, max: 0.999, noNaN: true }),
        (df, confidence) => {
          const theirs = jstat.jStat.studentt.inv((1 + confidence) / 2, df);
          const ours = checkedStudentQuantile(df, confidence);
          expect(Math.abs(ours / theirs - 1)).toBeLessThan(1e-6);
        },
      ),
    );
  });

  it('falls with the degrees of freedom, and rises with the confidence', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 97 }), (df, percent) => {
        const at = checkedStudentQuantile(df, percent / 100);
        expect(checkedStudentQuantile(df + 1, percent / 100)).toBeLessThan(at);
        expect(checkedStudentQuantile(df, (percent + 1) / 100)).toBeGreaterThan(at);
      }),
    );
  });

  it('refuses what has no quantile', () => {
    expect(studentQuantile(0, 0.95)).toMatchObject({ refused: expect.stringContaining('0 degrees') });
    expect(studentQuantile(1.5, 0.95)).toMatchObject({ refused: expect.stringContaining('1.5 degrees') });
    expect(studentQuantile(3, 1)).toMatchObject({ refused: expect.stringContaining('confidence of 1') });
    expect(studentQuantile(3, 0)).toMatchObject({ refused: expect.stringContaining('confidence of 0') });
  });
});
