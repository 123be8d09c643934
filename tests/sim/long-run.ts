import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { buildSync } from 'esbuild';
import { expect } from 'vitest';
import { askedBy, type Half, sayPlayed } from './long-report.ts';

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

/** What a half came to, where the other one of the same run finds it. */
function noteOf(half: number): string {
  return path.join(ROOT, 'node_modules/.cache/wellround-tests', `long-half-${half}.${process.ppid}.json`);
}

/** Null where there is none: the other half may read and remove both at the same time. */
function textOf(file: string): string | null {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return null;
  }
}

/** What both halves came to; null while the other one plays, or where it is not part of the run. */
function bothHalves(mine: Half): Half[] | null {
  const other = noteOf(1 - mine.half);
  writeFileSync(noteOf(mine.half), JSON.stringify(mine));
  const theirs = textOf(other);
  if (theirs === null) return null;
  const both = [mine, JSON.parse(theirs) as Half];
  for (const { half } of both) rmSync(noteOf(half), { force: true });
  return both;
}

function sayEnd(mine: Half): void {
  const asked = askedBy(process.env);
  process.stdout.write(`half ${mine.half}: ${sayPlayed(asked, [mine])}\n`);
  const both = bothHalves(mine);
  if (both) process.stdout.write(`both halves: ${sayPlayed(asked, both)}\n`);
}

/**
 * Plays every second seed, so that two processes may share them (`vitest run --maxWorkers=2`). In a process of its own,
 * compiled: as the test runner transforms the modules a world takes several times as long.
 */
export async function longRun(half: 0 | 1): Promise<void> {
  compile();
  rmSync(noteOf(half), { force: true });
  const command = [...LAZY, COMPILED, String(half)];
  const child = spawn(process.execPath, command, { stdio: ['ignore', 'pipe', 'inherit', 'ipc'] });
  let said = '';
  let mine: Half | null = null;
  child.stdout?.setEncoding('utf8').on('data', (text: string) => {
    process.stdout.write(text);
    said += text;
  });
  child.on('message', (message) => {
    mine = message as Half;
  });
  const [code] = await once(child, 'close');
  rmSync(COMPILED);
  if (mine) sayEnd(mine);
  const bad = said.split('\n').filter((line) => line.startsWith('seed ') || line.startsWith('  '));
  expect(bad.join('\n')).toBe('');
  expect(said).toContain(' worlds: ');
  expect(mine).toMatchObject({ half });
  expect(code).toBe(0);
}
