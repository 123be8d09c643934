import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readingIntervalMs, turnoverTimeMs } from '../../src/science/turnover-time.ts';

describe('turnover of the flow cell', () => {
  // Computed: V / Q.
  it.each([
    ['250', '50', 5 * 60_000],
    ['500', '50', 10 * 60_000],
    ['250', '200', 75_000],
    ['100', '30', 200_000],
    ['250', '70', 214_286],
    ['0.25', '0.050', 5 * 60_000],
  ])('%s mL at %s mL/min takes %s ms', (cell, flow, expected) => {
    expect(turnoverTimeMs(cell, flow)).toBe(expected);
  });

  it('never ends where no water moves', () => {
    expect(turnoverTimeMs('250', '0')).toBe(Number.POSITIVE_INFINITY);
    expect(turnoverTimeMs('250', '-5')).toBe(Number.POSITIVE_INFINITY);
  });

  it('takes no time for a cell of no volume', () => {
    expect(turnoverTimeMs('-1', '200')).toBe(0);
  });

  it('moves at least one cell volume, and no whole millisecond more', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100_000 }), fc.integer({ min: 1, max: 5_000 }), (cell, flow) => {
        const ms = BigInt(turnoverTimeMs(String(cell), String(flow)));
        const needed = BigInt(cell) * 60_000n;
        expect(ms * BigInt(flow) >= needed && (ms - 1n) * BigInt(flow) < needed).toBe(true);
      }),
    );
  });

  // max(5 min, V / Q): US EPA Region 1, EQASOP-GW4, Rev. 4, 2017, from memory.
  it('makes the interval the longer of 5 min and the turnover', () => {
    expect(readingIntervalMs(300_000, turnoverTimeMs('500', '50'))).toBe(600_000);
    expect(readingIntervalMs(300_000, turnoverTimeMs('250', '200'))).toBe(300_000);
    expect(readingIntervalMs(300_000, null)).toBe(300_000);
  });
});
