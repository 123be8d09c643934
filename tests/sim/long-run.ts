import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { rmSync } from 'node:fs';
import path from 'node:path';
import { buildSync } from 'esbuild';
import { expect } from 'vitest';

const ROOT = path.join(import.meta.dirname, '../..');

/** Within node_modules, so that what is compiled finds the packages where the sources do. */
const COMPILED = path.join(ROOT, 'node_modules/.cache/wellround-tests', `long-worlds.${process.pid}.js`);

/** Compiled too eagerly, most functions are compiled again and again, beside the worlds: a quarter of all the work. */
const LAZY = ['--interrupt-budget=1000000', '--max-semi-space-size=32'];

/** Read as TypeScript by tsx each inner function is given its name each time it is made, and a world takes longer. */
function compile(): void {
  buildSync({
    absWorkingDir: ROOT,
    entryPoints: ['tests/sim/long-worlds.ts'],
    outfile: COMPILED,
    bundle: true,
    packages: 'external',
    format: 'esm',
    platform: 'node',
    target: 'node20',
    logLevel: 'error',
  });
}

/**
 * Plays every second seed, so that two processes may share them (`vitest run --maxWorkers=2`). In a process of its own,
 * compiled: as the test runner transforms the modules a world takes several times as long.
 */
export async function longRun(half: 0 | 1): Promise<void> {
  compile();
  const command = [...LAZY, COMPILED, String(half)];
  const child = spawn(process.execPath, command, { stdio: ['ignore', 'pipe', 'inherit'] });
  let said = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    process.stdout.write(text);
    said += text;
  });
  const [code] = await once(child, 'close');
  rmSync(COMPILED);
  const bad = said.split('\n').filter((line) => line.startsWith('seed ') || line.startsWith('  '));
  expect(bad.join('\n')).toBe('');
  expect(said).toContain(' worlds: ');
  expect(code).toBe(0);
}
