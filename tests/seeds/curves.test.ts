import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Chance } from '../../seeds/play/chance.ts';
import { decimalOf, purgeRows } from '../../seeds/play/curves.ts';
import { PLANS } from '../../seeds/play/visit-plans.ts';
import { reading as readingKind } from '../../src/protocol/kinds/reading.ts';
import { decimal } from '../../src/protocol/primitives.ts';

const SHAPE = PLANS.mw1.shape;

describe('the log of a purge', () => {
  it('is the same in every run, and another for another seed', () => {
    const log = (seed: number) => JSON.stringify(purgeRows(SHAPE, new Chance(seed)));
    expect(log(7)).toBe(log(7));
    expect(log(7)).not.toBe(log(8));
  });

  it('has a reading about every five minutes, never so early that it would not count', () => {
    const seconds = purgeRows(SHAPE, new Chance(3)).map((row) => row.seconds);
    const gaps = seconds.slice(1).map((later, index) => later - (seconds[index] ?? 0));
    expect(Math.min(...gaps)).toBeGreaterThanOrEqual(270);
    expect(Math.max(...gaps)).toBeLessThanOrEqual(330);
  });

  it('drifts from the water of the casing to that of the formation', () => {
    const rows = purgeRows(SHAPE, new Chance(3));
    const turbidity = rows.map(({ fields }) => Number(fields.turbidityNtu));
    expect(turbidity[0]).toBeGreaterThan(20);
    expect(turbidity.at(-1)).toBeLessThan(SHAPE.water.turbidityNtu + 2);
    expect(Number(rows.at(-1)?.fields.depthToWaterFt)).toBeCloseTo(SHAPE.staticFt + SHAPE.drawdownFt, 1);
  });

  it('holds only fields and figures that a reading may hold', () => {
    const names = Object.keys(readingKind.fields.shape);
    for (const { shape } of Object.values(PLANS)) {
      for (const { fields } of purgeRows(shape, new Chance(1))) {
        for (const [field, value] of Object.entries(fields)) {
          expect(names).toContain(field);
          expect(decimal.safeParse(value).success, `${field} ${value}`).toBe(true);
        }
      }
    }
  });
});

describe('a decimal', () => {
  it('keeps its places and is never a negative zero', () => {
    expect(decimalOf(7.1, 2)).toBe('7.10');
    expect(decimalOf(-0.004, 2)).toBe('0.00');
    fc.assert(
      fc.property(
        fc.double({ min: -9_000, max: 9_000, noNaN: true }),
        fc.integer({ min: 0, max: 3 }),
        (value, digits) => {
          expect(decimal.safeParse(decimalOf(value, digits)).success).toBe(true);
        },
      ),
    );
  });
});

describe('chance', () => {
  it('stays within its bounds', () => {
    const chance = new Chance(5);
    for (let turn = 0; turn < 1_000; turn += 1) {
      expect(Math.abs(chance.wobble())).toBeLessThanOrEqual(1.000001);
      const whole = chance.whole(-5, 15);
      expect(whole).toBeGreaterThanOrEqual(-5);
      expect(whole).toBeLessThanOrEqual(15);
    }
  });
});
