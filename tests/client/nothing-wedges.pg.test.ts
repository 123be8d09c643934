import { setTimeout as sleep } from 'node:timers/promises';
import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import type { FieldClient } from '../../src/client/client.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { recount, sameTally } from '../../src/client/tally.ts';
import { LIMITS } from '../../src/protocol/limits.ts';
import { LONG_TEXT } from '../../src/protocol/primitives.ts';
import { MIN_SCHEMA_VERSION, SCHEMA_VERSION } from '../../src/protocol/version.ts';
import type { AssessmentInput } from '../../src/rules/assessment/assessment-input.ts';
import { firmLock } from '../../src/store/write/transaction.ts';
import { openLane } from '../../src/writes/lane.ts';
import { serverOver, type TestApp } from '../support/test-app.ts';
import { testDatabase } from '../support/test-database.ts';
import { TestFirm } from '../support/test-firm.ts';
import { SimClock } from './fake/phone.ts';
import { serverPhone } from './server-phone.ts';

vi.mock('../../src/rules/assessment/assess-purge.ts', async (original) => {
  const real = await original<typeof import('../../src/rules/assessment/assess-purge.ts')>();
  const assessPurge = (input: AssessmentInput) => {
    if (input.readings.some(({ fields }) => fields.ph === '6.66')) throw new TypeError('a rule fails');
    return real.assessPurge(input);
  };
  return { ...real, assessPurge };
});

let server: TestApp;
let firm: TestFirm;
const failed: string[] = [];

beforeAll(async () => {
  const db = await testDatabase();
  firm = new TestFirm(db.pool);
  await firm.setUp();
  const now = () => new Date(firm.nowMs);
  const told = { committed: () => undefined, failed: (setAside: string) => failed.push(setAside) };
  server = await serverOver(db, firm, openLane({ pool: db.pool, now, ...told }));
});
afterAll(() => server.close());

/** A purge with so many readings, of which the third may be one that a rule of the server fails on. */
async function captureDay(phone: FieldClient, clock: SimClock, how: { odd?: true; remark?: string }): Promise<void> {
  const { event, lone, north, meter } = firm.ids;
  const visit = await phone.record('visit', {
    event,
    well: lone,
    crew: north,
    method: 'low-flow',
    arrived: clock.wall(),
  });
  const remark = how.remark === undefined ? {} : { remark: how.remark };
  const purge = await phone.record('purge', { visit: visit.id, began: clock.wall(), ...remark });
  for (let at = 0; at < 6; at += 1) {
    clock.pass(300_000);
    const ph = at === 2 && how.odd ? '6.66' : `7.0${at}`;
    await phone.record('reading', { purge: purge.id, meter, ph, observed: await phone.observed() });
  }
}

/** As an app of another version pushes. @returns the outcomes, and whether the next push goes on behind them */
async function pushRaw(
  version: number,
  lines: readonly object[],
): Promise<readonly { outcome: string; code?: string }[]> {
  const header = JSON.stringify({ client: v7(), schemaVersion: version, first: 1, count: lines.length });
  const texts = lines.map((line, at) => JSON.stringify({ mutationId: at + 1, ...line }));
  const { body, statusCode } = await server.app.inject({
    method: 'POST',
    url: '/v1/sync/push',
    headers: {
      authorization: `Bearer ${await server.token('crew', firm.ids.otherPhone)}`,
      'content-type': 'application/x-ndjson',
    },
    payload: `${[header, ...texts].join('\n')}\n`,
  });
  expect([statusCode, body.slice(0, 300)]).toEqual([200, expect.any(String)]);
  return (JSON.parse(body) as { outcomes: { outcome: string; code?: string }[] }).outcomes;
}

async function agrees(phone: FieldClient): Promise<boolean> {
  const answer = await phone.context.transport.feeds((await phone.identity()).client);
  if (!answer.ok) throw new Error(answer.problem.detail);
  const each = answer.value.feeds.map(async (listed) =>
    sameTally(recount(await phone.context.store.recordsOfFeed(listed.feed)), listed),
  );
  return (await Promise.all(each)).every(Boolean);
}

it('[W9] nothing wedges: a rule that fails, long notes, a clock of 2038, apps of other versions and a lock that is held', async () => {
  const clocks = Array.from({ length: 5 }, () => new SimClock());
  const [odd, noted, late, plain] = clocks as [SimClock, SimClock, SimClock, SimClock];
  late.nowMs = Date.parse('2038-01-19T03:14:07Z');
  const phones = await Promise.all(clocks.map((clock) => serverPhone(server, clock, firm.ids.phone)));
  const [one, two, three, four] = phones as [FieldClient, FieldClient, FieldClient, FieldClient, FieldClient];
  await captureDay(one, odd, { odd: true });
  await captureDay(two, noted, { remark: '试'.repeat(LONG_TEXT) });
  await captureDay(three, late, {});
  await captureDay(four, plain, {});

  const holder = await server.db.pool.connect();
  await holder.query(`begin; ${firmLock(firm.id)}`);
  const { event, lone, north } = firm.ids;
  const visit = { verb: 'record', kind: 'visit', set: { event, well: lone, crew: north, method: 'low-flow' } };
  const raw = Promise.all([
    // a value that this server does not know, a line that is too long, and one that is sound behind them
    pushRaw(SCHEMA_VERSION + 1, [
      { ...visit, id: v7(), set: { ...visit.set, method: 'a method to come', arrived: '2026-05-04T10:00:00Z' } },
      {
        ...visit,
        id: v7(),
        set: { ...visit.set, arrived: '2026-05-04T10:00:00Z', note: 'x'.repeat(LIMITS.mutationBytes) },
      },
      { ...visit, id: v7(), set: { ...visit.set, arrived: '2026-05-04T10:00:00Z' } },
    ]),
    pushRaw(MIN_SCHEMA_VERSION, [{ ...visit, id: v7(), set: { ...visit.set, arrived: '2026-05-04T10:00:00Z' } }]),
  ]);
  const syncs = Promise.all(phones.map((phone) => syncOnce(phone)));
  await sleep(1_000);
  await holder.query('rollback');
  holder.release();

  const [newer, older] = await raw;
  expect(newer.map(({ outcome, code }) => [outcome, code])).toEqual([
    ['set_aside', 'newer_server_needed'],
    ['set_aside', 'too_large'],
    ['applied', undefined],
  ]);
  expect(older.map(({ outcome }) => outcome)).toEqual(['applied']);
  const reports = await syncs;
  expect(reports.map(({ problem }) => problem)).toEqual(phones.map(() => null));
  expect(reports[0]?.outcomes.map(({ outcome, code }) => code ?? outcome)).toEqual([
    ...Array(4).fill('applied'),
    'server_failed',
    ...Array(3).fill('applied'),
  ]);
  expect(failed).toHaveLength(1);
  for (const report of reports.slice(1, 4))
    expect(report.outcomes.map(({ outcome }) => outcome)).toEqual(Array(8).fill('applied'));
  // what the others brought
  for (const phone of phones) {
    expect((await syncOnce(phone)).unsent.count).toBe(0);
    expect(await agrees(phone)).toBe(true);
  }
});
