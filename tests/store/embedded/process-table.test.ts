import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { setTimeout } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { isAlive } from '../../../src/store/embedded/process-table.ts';

it('knows a process that lives from one that ended, and from one that never was', async () => {
  const child = spawn('sleep', ['60']);
  await once(child, 'spawn');
  const pid = child.pid ?? 0;
  expect(isAlive(pid)).toBe(true);
  child.kill('SIGKILL');
  await once(child, 'exit');
  expect(isAlive(pid)).toBe(false);
  expect(isAlive(0)).toBe(false);
  expect(isAlive(-1)).toBe(false);
});

it.runIf(process.platform === 'linux')('takes a process that ended for dead, though nobody collected it', async () => {
  // the shell starts a child, and becomes a program that never collects its children
  const parent = spawn('sh', ['-c', 'sleep 0.2 & echo $!; exec sleep 60'], { stdio: ['ignore', 'pipe', 'ignore'] });
  const [line] = (await once(parent.stdout, 'data')) as [Buffer];
  const pid = Number(String(line));
  expect(isAlive(pid)).toBe(true);
  for (let tries = 0; isAlive(pid) && tries < 100; tries += 1) await setTimeout(50);
  // its number is still taken
  expect(process.kill(pid, 0)).toBe(true);
  expect(isAlive(pid)).toBe(false);
  parent.kill('SIGKILL');
  await once(parent, 'exit');
});
