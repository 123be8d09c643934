import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ehMv } from '../../../src/science/orp/eh.ts';
import { zobellLinearMv } from '../../../src/science/orp/zobell-linear.ts';
import { zobellNordstromMv } from '../../../src/science/orp/zobell-nordstrom.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a number');

describe("ZoBell's solution by formula", () => {
  // Nordstrom 1977, equation from memory, values computed.
  it.each([
    [5, 479.1],
    [10, 467.2],
    [15, 455.1],
    [20, 442.8],
    [25, 430.3],
    [30, 417.6],
  ])('by Nordstrom at %s °C has %s mV', (celsius, mv) => {
    expect(zobellNordstromMv(celsius)).toBeCloseTo(mv, 1);
  });

  it('by the short form is 461 at 10 °C and 428 at 25 °C', () => {
    expect(zobellLinearMv(10)).toBeCloseTo(461, 9);
    expect(zobellLinearMv(25)).toBe(428);
  });

  it('falls with temperature in both forms, which are 0.5 to 7 mV apart', () => {
    fc.assert(
      fc.property(fc.double({ min: 10, max: 29, noNaN: true }), (celsius) => {
        expect(zobellNordstromMv(celsius + 1)).toBeLessThan(Number(zobellNordstromMv(celsius)));
        expect(zobellLinearMv(celsius + 1)).toBeLessThan(Number(zobellLinearMv(celsius)));
        const apart = Number(zobellNordstromMv(celsius)) - Number(zobellLinearMv(celsius));
        expect(apart).toBeGreaterThan(0.5);
        expect(apart).toBeLessThan(7);
      }),
    );
  });

  it.each([
    [zobellNordstromMv(4.9), '4.9 °C'],
    [zobellNordstromMv(41), '41 °C'],
    [zobellLinearMv(9), '9 °C'],
    [zobellLinearMv(31), '31 °C'],
  ])('refuses temperatures at which it was not compared: %#', (result, says) => {
    expect(why(result)).toContain(says);
  });
});

describe('Eh', () => {
  // Published conversion (read in a copy): 300 mV against saturated silver chloride is 497 mV at 25 °C.
  it('is 497 mV where 300 mV were read against 197', () => {
    expect(ehMv('300', '197.0')).toBe('497.0');
  });

  it('is the exact sum, as whole tenths say', () => {
    const tenths = fc.integer({ min: -9_999, max: 9_999 });
    fc.assert(
      fc.property(tenths, tenths, (orp, reference) => {
        const text = (value: number) => (value / 10).toFixed(1);
        expect(ehMv(text(orp), text(reference))).toBe(text(orp + reference));
      }),
    );
  });

  it('refuses what is no number', () => {
    expect(why(ehMv('high', '197'))).toContain('"high"');
    expect(why(ehMv('430', ''))).toContain('referenceMv');
  });
});
