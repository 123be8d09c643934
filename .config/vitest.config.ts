import os from 'node:os';
import path from 'node:path';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: path.join(import.meta.dirname, '..'),
  test: {
    include: ['tests/**/*.test.ts'],
    pool: 'forks',
    // the default leaves one processor idle; on two, every second file would wait for nothing
    maxWorkers: Math.max(2, os.availableParallelism() - 1),
    globalSetup: ['tests/support/global-setup.ts'],
    reporters: ['default', './.config/closing-line-reporter.ts'],
    testTimeout: 30_000,
    hookTimeout: 60_000,
  },
});
