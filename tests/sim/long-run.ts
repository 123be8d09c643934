import { spawn } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { expect } from 'vitest';

const WORLDS = path.join(import.meta.dirname, 'long-worlds.ts');

/**
 * Plays every second seed, so that two processes may share them (`vitest run --maxWorkers=2`). In a process of its own,
 * which has the modules as they are: as the test runner transforms them a world takes several times as long.
 */
export async function longRun(half: 0 | 1): Promise<void> {
  const command = ['--import', 'tsx', WORLDS, String(half)];
  const child = spawn(process.execPath, command, { stdio: ['ignore', 'pipe', 'inherit'] });
  let said = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    process.stdout.write(text);
    said += text;
  });
  const [code] = await once(child, 'close');
  const bad = said.split('\n').filter((line) => line.startsWith('seed ') || line.startsWith('  '));
  expect(bad.join('\n')).toBe('');
  expect(said).toContain(' worlds: ');
  expect(code).toBe(0);
}
