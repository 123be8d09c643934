import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync } from 'node:fs';
import { readFile, rm, truncate, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FieldClient } from '../../src/client/client.ts';
import { recount, sameTally } from '../../src/client/tally.ts';
import type { RecordState } from '../../src/protocol/record.ts';
import { compiled } from '../support/compiled.ts';
import { command } from './real-server.ts';
import { RestoreWorld } from './restore-world.ts';

const ROOT = path.join(import.meta.dirname, '../..');
const LONG_MS = 240_000;

let world: RestoreWorld;

beforeAll(async () => {
  world = await RestoreWorld.open();
}, LONG_MS);
afterAll(() => world?.close(), LONG_MS);

async function writtenIn(phone: FieldClient): Promise<Map<string, RecordState['fields']>> {
  const kinds = ['visit', 'purge', 'reading', 'crew'];
  const views = (await Promise.all(kinds.map((kind) => phone.all(kind)))).flat();
  return new Map(views.map(({ record }) => [record.id, record.fields]));
}

async function outboxNumbers(phone: FieldClient): Promise<number[]> {
  return (await phone.context.store.outbox()).map(({ mutationId }) => mutationId).sort((a, b) => a - b);
}

/** A command in a shell of its own, with limits that the shell sets. */
function shell(limits: string, ...args: readonly string[]) {
  const env = { PATH: process.env.PATH, HOME: process.env.HOME, DATA_DIR: world.folder('first'), LOG_LEVEL: 'warn' };
  const run = `${limits}exec ${process.execPath} ${compiled('cli.ts')} ${args.join(' ')}`;
  const child = spawn('bash', ['-c', run], { cwd: ROOT, env });
  const said = { out: '', err: '' };
  child.stdout.on('data', (chunk) => (said.out += String(chunk)));
  child.stderr.on('data', (chunk) => (said.err += String(chunk)));
  return { child, said };
}

/** The file and what is being written for it. */
function leftOf(file: string): string[] {
  return readdirSync(path.dirname(file)).filter((name) => name.startsWith(path.basename(file)));
}

describe('a backup that comes to nothing', () => {
  it(
    '[B2] leaves no file where there is no room for it, and no phone forgets anything',
    async () => {
      const purge = await world.visit(world.crews[0] as FieldClient);
      for (let at = 0; at < 30; at++) await world.reading(world.crews[0] as FieldClient, purge, `7.${at}`);
      await world.sync(2);
      const file = world.folder('full.backup');
      const { child, said } = shell('ulimit -f 20; ', 'backup', file);
      const [code] = await once(child, 'close');
      expect([code, said.out]).toEqual([1, '']);
      expect(said.err).toMatch(
        /could not be written: there is no room for it \(EFBIG\)\. No file of that name was left/,
      );
      expect(leftOf(file)).toEqual([]);
      expect(await Promise.all(world.phones.map((phone) => world.durable(phone)))).toEqual([0, 0, 0]);
    },
    LONG_MS,
  );

  it(
    '[B2] leaves no file of its name where it is killed in the middle, and is made whole by the next',
    async () => {
      const file = world.folder('killed.backup');
      const { child } = shell('', 'backup', file);
      const ended = once(child, 'close');
      // from the moment on at which it has begun to write
      while (leftOf(file).length === 0 && child.exitCode === null) await setImmediate();
      child.kill('SIGKILL');
      expect((await ended)[1]).toBe('SIGKILL');
      expect(leftOf(file)).toEqual([expect.stringMatching(/\.partial$/)]);
      expect(await Promise.all(world.phones.map((phone) => world.durable(phone)))).toEqual([0, 0, 0]);
      expect(await command(world.folder('first'), 'backup', file)).toMatch(
        /2 clients may forget more of what is in it/,
      );
      // what the kill left is in nobody's way, and nobody takes it for a backup
      expect(leftOf(file)).toHaveLength(2);
      expect((await readFile(file, 'utf8')).slice(0, 40)).toContain('"wellround":"backup"');
      await rm(file);
    },
    LONG_MS,
  );
});

describe('a firm whose database is lost', () => {
  it(
    '[B3] [B6] [B7] gets from its newest backup and from its phones everything that was acknowledged, once',
    async () => {
      const [one, two] = world.crews as [FieldClient, FieldClient];
      const purge = await world.visit(one);
      await world.reading(one, purge, '7.01');
      await world.visit(two);
      await world.sync(2);
      const marks = await Promise.all(world.phones.map(async (phone) => (await phone.identity()).nextMutation - 1));
      const file = world.folder('friday.backup');
      expect(await command(world.folder('first'), 'backup', file)).toMatch(
        /^\S+friday\.backup: \d+ rows, \d+ bytes, as of /,
      );

      // they work on, and are told what may be forgotten: what is in the file, and not a number more
      const late = await world.visit(two);
      await world.reading(one, purge, '7.02');
      await one.amend('purge', purge, { remark: 'after the backup' });
      await world.office.amend('crew', world.ids.north, { name: 'Renamed after the backup' });
      await world.sync(3);
      expect(await Promise.all(world.phones.map((phone) => world.durable(phone)))).toEqual(marks);
      const kept = await Promise.all(world.phones.map(outboxNumbers));
      expect(kept.map((numbers, at) => numbers.every((number) => number > (marks[at] ?? 0)))).toEqual([
        true,
        true,
        true,
      ]);
      expect(kept.map(({ length }) => length)).toEqual([1, 2, 2]);
      const acknowledged = await writtenIn(world.office);

      await world.server.stop();
      await rm(world.folder('first'), { recursive: true, force: true });
      // a copy that was damaged, and one that was cut, are found out before anything is entered
      const bytes = await readFile(file);
      bytes[Math.floor(bytes.length / 2)] = (bytes[Math.floor(bytes.length / 2)] ?? 0) ^ 4;
      await writeFile(world.folder('damaged.backup'), bytes);
      await writeFile(world.folder('cut.backup'), bytes);
      await truncate(world.folder('cut.backup'), bytes.length - 300);
      for (const name of ['damaged.backup', 'cut.backup']) {
        await expect(command(world.folder('second'), 'restore', world.folder(name))).rejects.toThrow(
          /cannot be used: .*Nothing was changed/,
        );
      }
      expect(await command(world.folder('second'), 'restore', file)).toMatch(
        /^\d+ rows restored, as of .*\nThe epoch is a new one/,
      );
      await expect(command(world.folder('second'), 'restore', file)).rejects.toThrow(/The database is not empty/);

      await world.moveTo('second');
      const reports = await world.sync(3);
      expect(reports.flatMap(({ problem }) => problem ?? [])).toEqual([]);
      expect(reports.reduce((sum, { replayed }) => sum + replayed, 0)).toBe(5);
      const now = await writtenIn(world.office);
      for (const [id, fields] of acknowledged) expect([id, now.get(id)]).toEqual([id, fields]);
      expect([now.size, now.get(purge)?.remark, now.has(late)]).toEqual([acknowledged.size, 'after the backup', true]);
      for (const phone of world.phones) {
        const answer = await phone.context.transport.feeds((await phone.identity()).client);
        if (!answer.ok) throw new Error(answer.problem.detail);
        for (const listed of answer.value.feeds) {
          const held = recount(await phone.context.store.recordsOfFeed(listed.feed));
          expect([listed.feed, sameTally(held, listed)]).toEqual([listed.feed, true]);
        }
      }
      // said again, and not in any backup since: they are kept on
      expect((await Promise.all(world.phones.map(outboxNumbers))).map(({ length }) => length)).toEqual([1, 2, 2]);

      // the next backup lets the last of it go
      expect(await command(world.folder('second'), 'backup', world.folder('monday.backup'))).toContain(
        '3 clients may forget',
      );
      await world.sync(2);
      expect(await Promise.all(world.phones.map(outboxNumbers))).toEqual([[], [], []]);
      await world.server.stop();
      const verified = await command(world.folder('second'), 'verify');
      expect(verified).toMatch(
        /"Restorers": sound\nepoch \S+ since \S+: restored from a backup of \S+Z\n1 firm, 0 differences\n/,
      );
      await world.moveTo('second');
    },
    LONG_MS,
  );

  it(
    '[B8] that was set back by something else is told so by new-epoch',
    async () => {
      const [one] = world.crews as [FieldClient];
      await world.server.stop();
      const said = await command(world.folder('second'), 'new-epoch');
      const [, epoch] = /^epoch (\S+)$/m.exec(said) ?? [];
      await world.moveTo('second');
      const before = (await one.identity()).epoch;
      const [, report] = await world.sync(1);
      expect(report?.resets.map(({ reason }) => reason)).toContain('set_back');
      expect([(await one.identity()).epoch, before === epoch]).toEqual([epoch, false]);
      expect((await world.sync(2)).flatMap(({ problem, resets }) => [problem, ...resets]).filter(Boolean)).toEqual([]);
    },
    LONG_MS,
  );
});
