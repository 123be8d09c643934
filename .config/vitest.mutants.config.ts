import path from 'node:path';
import { defineConfig } from 'vitest/config';

/** What a changed rule of stabilization has to get past: tests without a database, the same chance for every mutant. */
export default defineConfig({
  root: path.join(import.meta.dirname, '..'),
  test: {
    include: [
      'tests/science/{within-percent,within-absolute,ratio,millionths,units,turnover-time,volumes}.test.ts',
      'tests/rules/{millionths,assessment/**/*}.test.ts',
      'tests/oracles/**/*.test.ts',
    ],
    env: { FUZZ_SEED: '1', FUZZ_SERIES: '400' },
    testTimeout: 30_000,
  },
});
