import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import path from 'node:path';
import { v7 } from 'uuid';
import { describe, expect, it } from 'vitest';
import type { DurableStore } from '../../src/client/store.ts';
import { openFileStore } from '../../src/client-node/file-store.ts';
import { recoverFileStore } from '../../src/client-node/recover-file-store.ts';
import { type Medium, mediumContract } from '../client/store-contract.ts';
import { captured, identity, page } from '../client/store-fixtures.ts';
import { disk, flip, newFolder } from './kept-files.ts';

interface Kept extends Medium {
  readonly folder: string;
  readonly journal: string;
  failSync(fails: boolean, alsoTruncate?: boolean): void;
}

async function files(compactBytes = 4_194_304): Promise<Kept> {
  const folder = await newFolder();
  const journal = path.join(folder, 'journal.ndjson');
  const { full, failSync } = await disk();
  const opened: DurableStore[] = [];
  return {
    folder,
    journal,
    open: async () => {
      const store = await openFileStore({ folder, compactBytes });
      opened.push(store);
      return store;
    },
    close: (store) => (store as DurableStore).close(),
    damage: async () => {
      flip(journal, readFileSync(journal).length - 400);
      return [];
    },
    recover: () => recoverFileStore(folder, v7),
    full,
    failSync,
    remove: async () => {
      full(false);
      failSync(false);
      for (const store of opened) await store.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

describe('the file store', () => {
  mediumContract(() => files());
});

describe('the file store, its journal written anew all the time', () => {
  mediumContract(() => files(2_000));
});

/** A folder with a few commits in it, and where in its journal each line begins. */
async function written(commits: number): Promise<{ kept: Kept; starts: readonly number[] }> {
  const kept = await files();
  const store = await kept.open();
  for (let at = 1; at <= commits; at++) await store.commit(captured(at));
  await kept.close(store);
  const starts = [0];
  for (const [at, byte] of readFileSync(kept.journal).entries()) if (byte === 0x0a) starts.push(at + 1);
  return { kept, starts };
}

async function numbersIn(kept: Kept): Promise<number[]> {
  const store = await kept.open();
  const numbers = (await store.outbox()).map(({ mutationId }) => mutationId);
  await kept.close(store);
  return numbers.sort((a, b) => a - b);
}

describe('the end of a journal', () => {
  it('is cut off wherever the process died within its last line, and every line before it is there', async () => {
    const { kept, starts } = await written(3);
    const whole = readFileSync(kept.journal);
    const begin = starts[3] ?? 0;
    for (let end = begin; end < whole.length; end += end < begin + 20 ? 1 : 23) {
      writeFileSync(kept.journal, whole.subarray(0, end));
      const store = await openFileStore({ folder: kept.folder });
      expect([end, store.cutOff]).toEqual([end, end - begin]);
      expect([await store.outbox(), await store.identity()]).toMatchObject([{ length: 2 }, identity(3)]);
      await store.close();
      const again = await openFileStore({ folder: kept.folder });
      expect(again.cutOff).toBe(0);
      // What is written next must not become a part of what was cut off.
      await again.commit(captured(3));
      await again.close();
      expect(await numbersIn(kept)).toEqual([1, 2, 3]);
    }
    await kept.remove();
  });

  it('is cut off where a power failure left blocks that were never written', async () => {
    const { kept, starts } = await written(3);
    const whole = readFileSync(kept.journal);
    for (const tail of [Buffer.alloc(4_096), Buffer.concat([Buffer.alloc(200), Buffer.from('\n')])]) {
      writeFileSync(kept.journal, Buffer.concat([whole.subarray(0, starts[3]), tail]));
      expect(await numbersIn(kept)).toEqual([1, 2]);
    }
    await kept.remove();
  });
});

describe('a disk that fails when it is asked whether all is on it', () => {
  it('has the line taken back, so that a shorter one after it leaves nothing of it', async () => {
    const kept = await files();
    const store = await kept.open();
    await store.commit(captured(1));
    kept.failSync(true);
    await expect(store.commit(page(1, 50))).rejects.toMatchObject({ code: 'store_failed' });
    kept.failSync(false);
    expect(await store.feeds()).toEqual([]);
    await store.commit(captured(2));
    await kept.close(store);
    expect(await numbersIn(kept)).toEqual([1, 2]);
    await kept.remove();
  });

  it('is written to no more where the line cannot be taken back, until it is opened again', async () => {
    const kept = await files();
    const store = await kept.open();
    await store.commit(captured(1));
    kept.failSync(true, true);
    await expect(store.commit(page(1, 50))).rejects.toMatchObject({ code: 'store_failed' });
    kept.failSync(false);
    await expect(store.commit(captured(2))).rejects.toMatchObject({
      message: expect.stringContaining('open it again'),
    });
    expect(await store.outbox()).toHaveLength(1);
    await kept.close(store);
    expect(await numbersIn(kept)).toEqual([1]);
    await kept.remove();
  });
});

describe('a journal that was changed behind our back', () => {
  it('is noticed at whichever byte, and gives back every line of the outbox but the one that was changed', async () => {
    const { kept, starts } = await written(4);
    const whole = readFileSync(kept.journal);
    const ends = starts.map((start) => start - 1).slice(1, -1);
    const places = [...Array.from({ length: Math.floor(whole.length / 19) }, (_, at) => at * 19), ...ends];
    for (const at of places) {
      writeFileSync(kept.journal, whole);
      flip(kept.journal, at);
      await expect(kept.open()).rejects.toMatchObject({ code: expect.stringMatching(/^store_(damaged|newer)$/) });
      await kept.recover();
      const line = starts.findLastIndex((start) => start <= at);
      const rest = [1, 2, 3, 4].filter((number) => number !== line);
      expect([at, (await numbersIn(kept)).filter((number) => number !== line)]).toEqual([at, rest]);
    }
    // Every one of them was kept as it was.
    const copies = readdirSync(kept.folder).filter((name) => name.startsWith('damaged-'));
    expect(copies).toHaveLength(places.length);
    await kept.remove();
  });

  it('is noticed when a line is missing, there twice or in another place, or a line end is gone', async () => {
    const { kept, starts } = await written(4);
    const whole = readFileSync(kept.journal);
    const line = (at: number) => whole.subarray(starts[at], starts[at + 1]);
    const others = [
      [0, 1, 3, 4].map(line),
      [0, 1, 1, 2, 3, 4].map(line),
      [0, 2, 1, 3, 4].map(line),
      [1, 2, 3, 4].map(line),
      [whole.subarray(0, (starts[5] ?? 0) - 1), Buffer.from('x')],
      [whole.subarray(0, (starts[2] ?? 0) - 1), Buffer.from('x'), whole.subarray(starts[2])],
      [Buffer.alloc(0)],
    ];
    for (const other of others) {
      writeFileSync(kept.journal, Buffer.concat(other));
      await expect(kept.open()).rejects.toMatchObject({ code: 'store_damaged' });
    }
    await kept.remove();
  });

  it('of a newer program is left alone', async () => {
    const { kept } = await written(1);
    const { lineOf, NO_LINK, textOf } = await import('../../src/client-node/journal-line.ts');
    writeFileSync(kept.journal, lineOf(NO_LINK, textOf({ journal: 2 })).bytes);
    await expect(kept.open()).rejects.toMatchObject({ code: 'store_newer' });
    await kept.remove();
  });
});

describe('writing a journal anew', () => {
  it('keeps it small however often things change, with the same in it', async () => {
    const kept = await files(20_000);
    const store = await kept.open();
    for (let round = 0; round < 40; round++) await store.commit(page(1, 20));
    await store.commit(captured(1));
    await kept.close(store);
    expect(statSync(kept.journal).size).toBeLessThan(60_000);
    const again = await kept.open();
    expect([await again.recordsOfFeed('event:one'), await again.outbox()]).toMatchObject([
      { length: 20 },
      { length: 1 },
    ]);
    await kept.close(again);
    await kept.remove();
  });

  it('is given up where there is no room for it, and costs no commit', async () => {
    const kept = await files(20_000);
    const store = await openFileStore({ folder: kept.folder, compactBytes: 20_000 });
    await store.commit(page(1, 200));
    // The page made it large; the journal that is written anew finds the disk full.
    kept.full(true);
    await expect(store.commit(captured(1))).rejects.toMatchObject({ code: 'store_full' });
    expect(store.compactionProblem).toMatchObject({ code: 'store_full' });
    kept.full(false);
    await store.commit(captured(1));
    await store.close();
    expect(readdirSync(kept.folder).filter((name) => name.endsWith('.next'))).toEqual([]);
    expect(await numbersIn(kept)).toEqual([1]);
    await kept.remove();
  });
});

describe('the lock of a folder', () => {
  it('refuses a second opener and names the process that has it', async () => {
    const kept = await files();
    const store = await kept.open();
    const refusal = { code: 'store_in_use', message: expect.stringContaining(`process ${process.pid}`) };
    await expect(kept.open()).rejects.toMatchObject(refusal);
    await expect(kept.recover()).rejects.toMatchObject(refusal);
    await kept.close(store);
    expect(await numbersIn(kept)).toEqual([]);
    await kept.remove();
  });

  it('goes to exactly one of many that open at once, each time it is free', async () => {
    const kept = await files();
    for (let round = 0; round < 20; round++) {
      const tries = await Promise.allSettled(Array.from({ length: 8 }, () => kept.open()));
      const opened = tries.flatMap((one) => (one.status === 'fulfilled' ? [one.value] : []));
      expect(opened).toHaveLength(1);
      for (const store of opened) await kept.close(store);
    }
    expect(readdirSync(kept.folder).filter((name) => name.startsWith('lock-'))).toHaveLength(1);
    await kept.remove();
  });

  it('of a process that ended, or of an earlier boot, is taken over; of another machine it is not', async () => {
    const kept = await files();
    const { thisProcess } = await import('../../src/client-node/process-life.ts');
    const here = thisProcess();
    const lock = path.join(kept.folder, 'lock-7');
    for (const gone of [
      { ...here, started: '1' },
      { ...here, boot: 'an earlier one' },
      { ...here, pid: 4_194_305 },
    ]) {
      writeFileSync(lock, JSON.stringify(gone));
      expect(await numbersIn(kept)).toEqual([]);
      await rm(path.join(kept.folder, 'lock-8'), { force: true });
    }
    writeFileSync(lock, JSON.stringify({ ...here, host: 'another-machine' }));
    await expect(kept.open()).rejects.toMatchObject({ code: 'store_in_use' });
    await kept.remove();
  });
});
