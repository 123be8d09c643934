import { describe, expect, it } from 'vitest';
import { decideTwice, differences, purgeOf, reduced } from './agreement.ts';

const LONG = process.env.LONG === '1';
const SERIES = Number(process.env.FUZZ_SERIES ?? (LONG ? 1_000_000 : 5_000));
/** A slow machine does fewer, so that the suite stays short. */
const MOST_MS = LONG ? Number.POSITIVE_INFINITY : 5_000;
const seed = Number(process.env.FUZZ_SEED ?? Math.floor(Math.random() * 2 ** 31));
/** Where a long run that was stopped goes on. */
const from = Number(process.env.FUZZ_FROM ?? 0);

describe('a second implementation of the rules of assessments, written from their prose', () => {
  it(
    `[A6] decides up to ${SERIES} random purges as the first one does`,
    () => {
      console.info(`FUZZ_SEED=${seed}`);
      const end = performance.now() + MOST_MS;
      const seen = { series: 0, stable: 0, held: 0 };
      for (let number = from; number < from + SERIES && performance.now() < end; number += 1) {
        const purge = purgeOf(seed, number);
        const { second, differ } = decideTwice(purge);
        if (differ.length > 0) {
          const less = reduced(purge);
          const told = JSON.stringify({ seed, number, differ: differences(less), purge: less }, null, 1);
          expect.fail(`The two implementations differ, and SPEC.md says who is right: ${told}`);
        }
        seen.series += 1;
        seen.stable += Number(second.stable);
        seen.held += Number(second.firstHeldAt !== null);
        if (seen.series % 50_000 === 0) console.info(`agreed up to FUZZ_FROM=${number + 1}`);
      }
      console.info(`${seen.series} purges agree: ${seen.stable} stable, ${seen.held} stable at some time`);
      // Purges by chance that are hardly ever stable would compare nothing.
      expect(seen.stable / seen.series).toBeGreaterThan(0.1);
      expect(seen.held / seen.series).toBeLessThan(0.9);
    },
    LONG ? 4 * 3_600_000 : 60_000,
  );

  it('repeats a purge by its seed and number', () => {
    expect(purgeOf(7, 11)).toEqual(purgeOf(7, 11));
    expect(purgeOf(7, 11)).not.toEqual(purgeOf(7, 12));
    expect(purgeOf(8, 11)).not.toEqual(purgeOf(7, 11));
  });
});
