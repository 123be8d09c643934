import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { compiled } from './support/compiled.ts';
import { CURSED, failingFirm } from './support/failing-firm.ts';
import { type TestDatabase, testDatabase } from './support/test-database.ts';
import { TestFirm } from './support/test-firm.ts';
import { minute, purgeDrafts } from './support/visit-drafts.ts';

const ROOT = path.join(import.meta.dirname, '..');
const TSX = path.join(ROOT, 'node_modules/tsx/dist/cli.mjs');
const COMMAND_MS = 60_000;

let db: TestDatabase;
let firms: TestFirm[];

beforeAll(async () => {
  db = await testDatabase();
  firms = [new TestFirm(db.pool), new TestFirm(db.pool)];
  for (const firm of firms) {
    await firm.setUp();
    const crew = await firm.client('crew', firm.ids.phone);
    await crew.push(...purgeDrafts(firm, { outcome: 'sampled', left: minute(40) }).drafts);
  }
});
afterAll(() => db.drop());

/** As somebody runs it by npm. */
const BY_TSX = [TSX, 'src/cli.ts'];

/** A command on the database of this test. */
async function command(...args: readonly string[]) {
  return run([compiled('cli.ts')], args);
}

async function run(program: readonly string[], args: readonly string[]) {
  const { PATH, HOME } = process.env;
  const { databaseUrl: DATABASE_URL, appDatabaseUrl } = db;
  const app = appDatabaseUrl === undefined ? {} : { APP_DATABASE_URL: appDatabaseUrl };
  const env = { PATH, HOME, DATABASE_URL, ...app, LOG_LEVEL: 'warn' };
  const child = spawn(process.execPath, [...program, ...args], { cwd: ROOT, env });
  const said = { out: '', err: '' };
  child.stdout.on('data', (chunk) => (said.out += String(chunk)));
  child.stderr.on('data', (chunk) => (said.err += String(chunk)));
  const [code] = await once(child, 'close');
  return { code, ...said };
}

/** A clock that was off, which an older version would have kept without a note of it. */
async function keepClockDay({ id, ids }: TestFirm): Promise<void> {
  const text = `insert into device_clock values ($1, $2, '2026-05-04', 600000, 700000)`;
  await db.bypass.query(text, [id, ids.phone]);
}

describe('npm run cli', () => {
  it(
    'verify names what differs and fails; derive-again writes it, once; then verify finds all firms sound',
    async () => {
      const [first, second] = firms.toSorted((a, b) => (a.id < b.id ? -1 : 1)) as [TestFirm, TestFirm];
      const named = ({ id }: TestFirm) => `firm ${id} "Testwater Associates"`;
      const sound = await command('verify');
      expect(sound).toEqual({
        code: 0,
        out: `${named(first)}: sound\n${named(second)}: sound\n2 firms, 0 differences\n`,
        err: '',
      });
      await keepClockDay(second);
      const found = await command('verify');
      expect([found.code, found.err]).toEqual([1, '']);
      expect(found.out).toMatch(
        new RegExp(
          `^${named(first)}: sound\n${named(second)}: 1 difference\n  derived firm flag [0-9a-f-]{36}: .*not stored\n2 firms, 1 difference\nWhat is derived, derive-again writes anew`,
        ),
      );
      const nothing = 'nothing differed';
      expect(await command('derive-again')).toEqual({
        code: 0,
        out: `${named(first)}: ${nothing}\n${named(second)}: flag 1 written, 0 withdrawn\n2 firms\n`,
        err: '',
      });
      expect((await command('derive-again')).out).toBe(
        `${named(first)}: ${nothing}\n${named(second)}: ${nothing}\n2 firms\n`,
      );
      expect(await command('verify')).toEqual(sound);
    },
    5 * COMMAND_MS,
  );

  it(
    'a fault in one firm does not keep the others from their turn, is said, and makes the command fail',
    async () => {
      const [first, second] = firms.toSorted((a, b) => (a.id < b.id ? -1 : 1)) as [TestFirm, TestFirm];
      await keepClockDay(first);
      const mend = await failingFirm(db, 'ledger', first.id);
      const { code, out, err } = await command('derive-again');
      await mend();
      expect([code, err]).toEqual([1, `firm ${first.id} "Testwater Associates": failed: ${CURSED}\n`]);
      expect(out).toBe(
        `firm ${second.id} "Testwater Associates": nothing differed\n2 firms, 1 of them not gone through to the end\n`,
      );
    },
    COMMAND_MS,
  );

  it(
    'verify names the row of a history that was tampered with',
    async () => {
      const [firm] = firms as [TestFirm];
      const owner = await db.owner();
      await owner.query('alter table ledger disable trigger ledger_append_only');
      const { rows } = await db.bypass.query<{ record: string }>(
        `update ledger set state = replace(state::text, 'North crew', 'Other crew')::json
where firm = $1 and kind = 'crew' and state::text like '%North crew%' returning record`,
        [firm.id],
      );
      await owner.query('alter table ledger enable trigger ledger_append_only');
      const { code, out } = await command('verify');
      expect(code).toBe(1);
      expect(out).toContain(`  history firm crew ${rows[0]?.record}: the history hash of row`);
    },
    COMMAND_MS,
  );

  it(
    'compact drops what left a feed long ago, and says of which firm how much; not where it is switched off',
    async () => {
      const said = await command('compact');
      expect([said.code, said.err]).toEqual([0, '']);
      expect(said.out).toMatch(
        /^(firm \S+ "Testwater Associates": \d+ rows? dropped in \d feeds?\n){2}2 firms, what left a feed more than 90 days ago\n$/,
      );
    },
    COMMAND_MS,
  );

  it(
    'backup needs one file, writes it beside a running database, and restore refuses a database that is not empty',
    async () => {
      const unnamed = await command('backup');
      expect([unnamed.code, unnamed.err.split('\n')[0]]).toEqual([2, 'backup needs the name of one FILE']);
      const folder = await mkdtemp(path.join(os.tmpdir(), 'cli-'));
      const file = path.join(folder, 'one.backup');
      const made = await command('backup', file);
      expect([made.code, made.err]).toEqual([0, '']);
      expect(made.out).toMatch(
        /one\.backup: \d+ rows, \d+ bytes, as of \S+Z\nSHA-256 of its content [0-9a-f]{64}\n\d+ clients may forget/,
      );
      const refused = await command('restore', file);
      expect(refused.code).toBe(1);
      expect(refused.err).toMatch(/^The database is not empty: it has rows in \w+\. Nothing was changed\./);
      await rm(folder, { recursive: true });
      const looked = await command('doctor');
      expect(looked.err).toBe('');
      expect(looked.out).toMatch(/^(ok {2}|LOOK) database: PostgreSQL \d/);
      expect(looked.out).toContain('ok   tables: up to date\nok   backup: the newest is of ');
      expect(looked.code).toBe(looked.out.includes('LOOK') ? 1 : 0);
    },
    4 * COMMAND_MS,
  );

  it(
    '[E1] prints a code for the phone of a device, or for an administrator, and says what it does not know',
    async () => {
      const [firm] = firms;
      const device = firm?.ids.phone ?? '';
      const id = firm?.id ?? '';
      const ofDevice = await command('enrolment-code', '--firm', id, device);
      expect(ofDevice).toMatchObject({
        code: 0,
        out: expect.stringMatching(/^code {2}[0-9A-Z]{5}-[0-9A-Z]{5}\nvalid 15 /),
      });
      expect(await command('enrolment-code', '--firm', id)).toMatchObject({ code: 0 });
      const { rows } = await db.bypass.query('select role, device from enrolment_code where firm = $1 order by role', [
        id,
      ]);
      expect(rows).toEqual([
        { role: 'admin', device: null },
        { role: 'crew', device },
      ]);
      const both = await command('enrolment-code', '--firm', 'Testwater Associates');
      expect([both.code, both.err.split('\n')[0]]).toEqual([
        2,
        '2 firms are called Testwater Associates: give the id of one',
      ]);
      expect((await command('enrolment-code', '--firm', id, firm?.ids.lone ?? '')).code).toBe(2);
      expect((await command('enrolment-code')).code).toBe(2);
    },
    6 * COMMAND_MS,
  );

  it(
    'init enters a firm once, and another of the same name only where that is asked for',
    async () => {
      const firm = '--firm';
      const names = () => db.bypass.query(`select 1 from firm where name = 'Old Well Services'`);
      expect(await command('init', firm, 'Old Well Services')).toMatchObject({ code: 0, err: '' });
      const twice = await command('init', firm, 'Old Well Services');
      expect([twice.code, twice.out]).toEqual([1, '']);
      expect(twice.err).toMatch(/^There is a firm "Old Well Services" already: [0-9a-f-]{36}\. Nothing was entered\./);
      expect((await names()).rowCount).toBe(1);
      expect(await command('init', firm, 'Old Well Services', '--again')).toMatchObject({ code: 0, err: '' });
      expect((await names()).rowCount).toBe(2);
    },
    3 * COMMAND_MS,
  );

  it(
    'says what it can do, and what it does not know',
    async () => {
      const { code, out } = await run(BY_TSX, ['--help']);
      expect(code).toBe(0);
      const names = [
        'migrate',
        'init',
        'enrolment-code',
        'verify',
        'derive-again',
        'compact',
        'backup FILE',
        'restore FILE',
        'new-epoch',
      ];
      for (const name of names) expect(out).toContain(`npm run cli -- ${name}`);
      for (const name of ['derive', 'toString']) {
        const unknown = await command(name);
        expect([unknown.code, unknown.err.split('\n')[0]]).toEqual([2, `no command ${name}`]);
      }
    },
    COMMAND_MS,
  );
});
