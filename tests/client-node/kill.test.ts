import { type ChildProcess, spawn } from 'node:child_process';
import { rm } from 'node:fs/promises';
import path from 'node:path';
import { expect, it } from 'vitest';
import { openFileStore } from '../../src/client-node/file-store.ts';
import { newFolder } from './kept-files.ts';

const CHILD = path.join(import.meta.dirname, 'writing-child.ts');
const ROUNDS = process.env.LONG ? 300 : 8;

interface Said {
  /** What the child printed, whole lines only. */
  readonly lines: readonly string[];
}

/** As `ulimit -f`: the file may not grow beyond so many KiB, and the kernel refuses to write what goes beyond. */
function spawnChild(folder: string, compactBytes: number, limitKiB?: number): ChildProcess {
  const node = ['--import', 'tsx', CHILD, folder, String(compactBytes)];
  const stdio = ['ignore', 'pipe', 'inherit'] as const;
  if (limitKiB === undefined) return spawn(process.execPath, node, { stdio: [...stdio] });
  const command = `ulimit -f ${limitKiB}; exec "$0" "$@"`;
  return spawn('bash', ['-c', command, process.execPath, ...node], { stdio: [...stdio] });
}

/** Kills the child without warning once it has said enough and then a random moment has passed. */
async function runAndKill(child: ChildProcess, isEnough: (text: string) => boolean, afterMs: number): Promise<Said> {
  let text = '';
  const ended = new Promise<void>((done) => child.once('exit', () => done()));
  await new Promise<void>((done, fail) => {
    child.once('exit', () => fail(new Error(`the child ended by itself after: ${text}`)));
    child.stdout?.on('data', (more: Buffer) => {
      text += more.toString('utf8');
      if (isEnough(text)) done();
    });
  });
  await new Promise((done) => setTimeout(done, afterMs));
  child.kill('SIGKILL');
  await ended;
  return { lines: text.split('\n').slice(0, -1) };
}

function highest(lines: readonly string[], word: string): number {
  const numbers = lines.filter((line) => line.startsWith(`${word} `)).map((line) => Number(line.split(' ')[1]));
  return Math.max(0, ...numbers);
}

/** Everything that was said to be stored is there, and nothing is there by halves. */
async function check(folder: string, said: Said): Promise<number> {
  const store = await openFileStore({ folder });
  const numbers = (await store.outbox()).map(({ mutationId }) => mutationId).sort((a, b) => a - b);
  const acknowledged = highest(said.lines, 'entry');
  expect(numbers).toEqual(Array.from({ length: numbers.length }, (_, at) => at + 1));
  expect(numbers.length).toBeGreaterThanOrEqual(acknowledged);
  // One more may have been stored whose number nobody was told.
  expect(numbers.length).toBeLessThanOrEqual(acknowledged + 2);
  expect((await store.identity())?.nextMutation).toBe(numbers.length + 1);
  const [state] = await store.feeds();
  const rows = await store.recordsOfFeed('event:one');
  if (highest(said.lines, 'page') > 0) expect(state?.seq).toBeGreaterThanOrEqual(highest(said.lines, 'page') + 59);
  expect(rows).toHaveLength(state ? 60 : 0);
  if (state) expect(Math.max(...rows.map(({ seq }) => seq))).toBe(state.seq);
  const { cutOff } = store;
  await store.close();
  return cutOff;
}

// A journal of this size is written anew many times in each round, so that the kill falls into that as well.
it.each([
  ['', 4_194_304],
  [', also while the journal is written anew', 30_000],
])(
  'is killed again and again while it writes, and has every acknowledged commit, none by halves%s',
  async (_, bytes) => {
    const folder = await newFolder();
    let before = 0;
    for (let round = 0; round < ROUNDS; round++) {
      const child = spawnChild(folder, bytes);
      const said = await runAndKill(child, (text) => text.includes('entry '), Math.random() * 150);
      await check(folder, said);
      expect(highest(said.lines, 'entry')).toBeGreaterThan(before);
      before = highest(said.lines, 'entry');
    }
    await rm(folder, { recursive: true });
  },
  process.env.LONG ? 1_800_000 : 120_000,
);

it('finds no room for a line, keeps all that was stored, and goes on where there is room again', async () => {
  const folder = await newFolder();
  const full = spawnChild(folder, 4_194_304, 48);
  const said = await runAndKill(full, (text) => text.split('refused store_full').length > 4, 0);
  expect(said.lines.filter((line) => line.startsWith('refused')).every((line) => line === 'refused store_full')).toBe(
    true,
  );
  expect(await check(folder, said)).toBe(0);
  const freed = await runAndKill(spawnChild(folder, 4_194_304), (text) => text.includes('page '), 0);
  expect(highest(freed.lines, 'entry')).toBeGreaterThan(highest(said.lines, 'entry'));
  await check(folder, freed);
  await rm(folder, { recursive: true });
});

it('takes over the folder of a process that was killed, and refuses it to another while that lives', async () => {
  const folder = await newFolder();
  const child = spawnChild(folder, 4_194_304);
  let refusal: unknown = null;
  const refused = (text: string) => {
    if (text.includes('entry 3\n') && refusal === null) {
      refusal = 'asked';
      void openFileStore({ folder }).catch((error: unknown) => {
        refusal = error;
      });
    }
    return refusal instanceof Error;
  };
  await runAndKill(child, refused, 0);
  expect(refusal).toMatchObject({ code: 'store_in_use', message: expect.stringContaining(`process ${child.pid}`) });
  const store = await openFileStore({ folder });
  await store.close();
  await rm(folder, { recursive: true });
});
