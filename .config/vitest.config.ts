import { readdirSync, readFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { defineConfig } from 'vitest/config';

const root = path.join(import.meta.dirname, '..');

/** These start and kill processes, or take long: they come first, each in a process of its own. */
const LONG = /^tests\/([^/]+|client-node\/.*|faults\/.*|security\/.*|seeds\/.*|sim\/.*|store\/embedded\/.*)$/;

/** What a file does to the modules, the clock or the settings of its process must not reach another. */
const MEDDLES = /\bvi\.(mock|doMock|hoisted|useFakeTimers|stubEnv|stubGlobal)\(|\bprocess\.(chdir\(|env\.\w+ = )/;

const files = readdirSync(path.join(root, 'tests'), { recursive: true, encoding: 'utf8' })
  .map((name) => `tests/${name.replaceAll(path.sep, '/')}`)
  .filter((name) => name.endsWith('.test.ts'));
const alone = files.filter((name) => LONG.test(name) || MEDDLES.test(readFileSync(path.join(root, name), 'utf8')));

const all = {
  root,
  pool: 'forks',
  // the default leaves one processor idle; on two, every second file would wait for nothing
  maxWorkers: Math.max(2, os.availableParallelism() - 1),
  testTimeout: 30_000,
  hookTimeout: 60_000,
} as const;

export default defineConfig({
  root,
  test: {
    ...all,
    globalSetup: ['tests/support/global-setup.ts'],
    reporters: ['default', './.config/closing-line-reporter.ts'],
    projects: [
      { test: { ...all, name: 'alone', include: alone } },
      // to load the modules anew for each of 300 files took a fifth of the time of all
      { test: { ...all, name: 'shared', include: ['tests/**/*.test.ts'], exclude: alone, isolate: false } },
    ],
  },
});
