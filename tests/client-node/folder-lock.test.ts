import { readdirSync, rmSync, writeFileSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import path from 'node:path';
import { afterEach, expect, it, vi } from 'vitest';
import { lockFolder } from '../../src/client-node/folder-lock.ts';
import { thisProcess } from '../../src/client-node/process-life.ts';
import { newFolder } from './kept-files.ts';

/** What others do between the moment in which an opener has seen the locks and that in which it makes its own. */
const between: { others: () => void } = { others: () => undefined };

vi.mock('node:fs/promises', async (original) => {
  const real = await original<typeof import('node:fs/promises')>();
  return {
    ...real,
    link: (from: string, to: string) => {
      between.others();
      return real.link(from, to);
    },
  };
});

afterEach(() => {
  between.others = () => undefined;
});

function locksIn(folder: string): string[] {
  return readdirSync(folder).filter((name) => name.startsWith('lock-'));
}

it('gives way where the folder went through other hands since it looked, and is taken by somebody now', async () => {
  const folder = await newFolder();
  const lock = (number: number) => path.join(folder, `lock-${number}`);
  writeFileSync(lock(1), 'null');
  between.others = () => {
    // One took number 2 and gave it back; the next took number 3 and removed what came before.
    rmSync(lock(1), { force: true });
    writeFileSync(lock(3), JSON.stringify(thisProcess()));
  };
  await expect(lockFolder(folder)).rejects.toMatchObject({ code: 'store_in_use' });
  expect(locksIn(folder)).toEqual(['lock-3']);
  await rm(folder, { recursive: true });
});

it('looks again where another was faster', async () => {
  const folder = await newFolder();
  const taken = path.join(folder, 'lock-1');
  between.others = () => {
    between.others = () => undefined;
    writeFileSync(taken, 'null');
  };
  const lock = await lockFolder(folder);
  expect(locksIn(folder)).toEqual(['lock-2']);
  await lock.release();
  await expect(lockFolder(folder)).resolves.toBeDefined();
  expect(locksIn(folder)).toEqual(['lock-3']);
  await rm(folder, { recursive: true });
});

it('is never had by two of many that take it and give it back all the time', async () => {
  const folder = await newFolder();
  let inside = 0;
  let times = 0;
  const one = async () => {
    for (let round = 0; round < 40; round++) {
      const lock = await lockFolder(folder).catch(() => null);
      if (lock === null) continue;
      inside += 1;
      times += 1;
      expect(inside).toBe(1);
      await new Promise((done) => setImmediate(done));
      inside -= 1;
      await lock.release();
    }
  };
  await Promise.all(Array.from({ length: 6 }, one));
  expect(times).toBeGreaterThan(10);
  await rm(folder, { recursive: true });
});
