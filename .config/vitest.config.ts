import path from 'node:path';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: path.join(import.meta.dirname, '..'),
  test: {
    include: ['tests/**/*.test.ts'],
    pool: 'forks',
    globalSetup: ['tests/support/global-setup.ts'],
    reporters: ['default', './.config/closing-line-reporter.ts'],
    testTimeout: 30_000,
    hookTimeout: 60_000,
  },
});
