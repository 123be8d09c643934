import { describe, expect, it } from 'vitest';
import { tableText } from './report.ts';
import { type Row, summarize } from './row.ts';

const row: Row = {
  name: 'list',
  against: 'SQL',
  unit: 'ms',
  measure: 'time',
  target: 3,
  rounds: [
    { own: 40, other: 10 },
    { own: 20, other: 10 },
    { own: 30, other: 10 },
  ],
  notes: ['9 MB/s'],
};

describe('a row of the benchmark', () => {
  it('reaches the median of its rounds, each side in the same round, and is met by its target', () => {
    expect(summarize(row)).toMatchObject({ reached: 3, own: 30, other: 10, met: true, spread: [2, 4], target: '<= 3' });
    expect(summarize({ ...row, target: 2.9 }).met).toBe(false);
  });

  it('is neither met nor missed where nothing is promised', () => {
    const found = summarize({ ...row, target: null });
    expect([found.met, found.target, found.reached]).toEqual([null, 'none', 3]);
    expect(tableText([found])).not.toMatch(/met|MISSED/);
  });

  it('tells below the table where its time goes', () => {
    expect(
      tableText([summarize(row)])
        .split('\n')
        .slice(-2),
    ).toEqual(['', 'list: 9 MB/s']);
    expect(tableText([summarize({ ...row, notes: [] })])).not.toContain('MB/s');
  });
});
