import { expect, it } from 'vitest';
import { memoryStore } from '../../src/client/memory-store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import type { Mutation } from '../../src/protocol/mutation.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import { EPOCH_2, EVENT_FEED, firmServer, MEMBER, PARTNER, recordPurge, recordReading } from './fake/world.ts';

async function setUp(durable = 0) {
  const server = firmServer();
  server.durable = () => durable;
  const clock = new SimClock();
  const store = memoryStore();
  const phone = await openPhone({ server, clock, seed: 1, store });
  await phone.setPerson(MEMBER);
  const purge = await recordPurge(phone);
  await recordReading(phone, purge, '7.00');
  await syncOnce(phone);
  return { server, clock, store, phone, purge };
}

function phsOn(server: ReturnType<typeof firmServer>): unknown[] {
  const readings = Object.values(server.state.records).filter(({ record }) => record.kind === 'reading');
  return readings.map(({ record }) => record.fields.ph).sort();
}

it.each([
  ['and says so by a new epoch', EPOCH_2],
  ['and nobody says so', undefined],
])('a server that is set back to an older copy %s gets everything back that a phone still has', async (_, epoch) => {
  const { server, phone, purge } = await setUp();
  const copy = server.snapshot();
  const second = await recordReading(phone, purge, '7.10');
  await syncOnce(phone);
  await phone.amend('reading', second.id, { ph: '7.11' }, { reason: 'misread' });
  await syncOnce(phone);
  await recordReading(phone, purge, '7.20');
  server.restore(copy, epoch);
  const report = await syncOnce(phone);
  expect(report).toMatchObject({ problem: null, unsent: { count: 0 } });
  expect(report.replayed).toBe(2);
  expect(phsOn(server)).toEqual(['7.00', '7.11', '7.20']);
  await syncOnce(phone);
  expect((await phone.all('reading')).map(({ standing, record }) => [standing, record.fields.ph])).toEqual([
    ['synced', '7.00'],
    ['synced', '7.11'],
    ['synced', '7.20'],
  ]);
  expect(await phone.conflicts()).toEqual([]);
});

it('a phone that only reads notices too, since its cursor is of a time that the server never had', async () => {
  const { server, clock } = await setUp();
  const reader = await openPhone({ server, clock, seed: 2 });
  const copy = server.snapshot();
  const crew = Object.keys(server.state.records).find((id) => server.state.records[id]?.record.kind === 'crew') ?? '';
  server.write('firm', 'crew', crew, { name: 'Crew One' });
  await syncOnce(reader);
  server.restore(copy);
  server.write('firm', 'crew', crew, { name: 'Crew 2' });
  const report = await syncOnce(reader);
  expect(report).toMatchObject({ resets: [{ feed: 'firm', reason: 'history' }], problem: null });
  expect((await reader.one(crew))?.record).toEqual(server.state.records[crew]?.record);
});

it('learns of a set-back by its own numbers where it follows no feed that could tell', async () => {
  const { server, phone, purge } = await setUp();
  const copy = server.snapshot();
  await recordReading(phone, purge, '7.10');
  await syncOnce(phone);
  server.feeds = () => [];
  await syncOnce(phone);
  server.restore(copy);
  expect(await syncOnce(phone)).toMatchObject({ replayed: 1, problem: null, unsent: { count: 0 } });
  expect(phsOn(server)).toEqual(['7.00', '7.10']);
});

it('says again under the same numbers, in values where a base named a revision', async () => {
  const { server, phone, purge } = await setUp();
  const copy = server.snapshot();
  await phone.amend('purge', purge, { remark: 'clear' });
  await syncOnce(phone);
  const { client } = await phone.identity();
  server.restore(copy, EPOCH_2);
  await syncOnce(phone);
  const line = JSON.parse(server.state.receipts[client]?.lines[3] ?? '') as Mutation;
  expect(line).toMatchObject({ mutationId: 4, base: { was: { remark: null } }, set: { remark: 'clear' } });
});

it('never overwrites, after a set-back, what another phone said under a revision that now means something else', async () => {
  const { server, clock, phone, purge } = await setUp();
  const other = await openPhone({ server, clock, seed: 2 });
  await other.setPerson(PARTNER);
  await syncOnce(other);
  const copy = server.snapshot();
  await phone.amend('purge', purge, { ended: '2026-05-04T11:00:00-05:00' });
  await syncOnce(phone);
  await phone.amend('purge', purge, { remark: 'mine' });
  server.restore(copy, EPOCH_2);
  // The other one takes the revision that this phone's base names.
  await other.amend('purge', purge, { remark: 'theirs' });
  await syncOnce(other);
  await syncOnce(phone);
  await syncOnce(phone);
  const found = await phone.conflicts();
  expect(found.map(({ record }) => record?.fields.kept)).toEqual([[{ value: 'theirs' }]]);
  expect((await phone.one(purge))?.record.fields).toMatchObject({ remark: 'mine' });
});

it('a gap with a lower number than ours sends again from there, before any pull', async () => {
  const { server, phone, purge } = await setUp();
  const copy = server.snapshot();
  await recordReading(phone, purge, '7.10');
  await syncOnce(phone);
  await recordReading(phone, purge, '7.20');
  server.restore(copy);
  server.fault = ({ method }) => (method === 'POST' ? 'none' : 'gateway');
  const report = await syncOnce(phone);
  expect(report).toMatchObject({ replayed: 1, pushed: 2, newIdentities: 0, unsent: { count: 0 } });
  expect(phsOn(server)).toEqual(['7.00', '7.10', '7.20']);
});

it.each([
  ['announced', EPOCH_2],
  ['not announced', undefined],
])('asks which history the server has before it pushes a revision as base: a set-back %s', async (_, epoch) => {
  const { server, clock, phone, purge } = await setUp();
  const others = [await openPhone({ server, clock, seed: 2 }), await openPhone({ server, clock, seed: 3 })];
  const copy = server.snapshot();
  for (const one of others) await syncOnce(one);
  const [third, other] = others;
  await third?.amend('purge', purge, { remark: 'third' });
  if (third) await syncOnce(third);
  await syncOnce(phone);
  // Based on the revision that the third brought; then that is lost, and another change takes its number.
  await phone.amend('purge', purge, { remark: 'mine' });
  server.restore(copy, epoch);
  await other?.amend('purge', purge, { remark: 'other' });
  if (other) await syncOnce(other);
  expect(server.state.records[purge]?.record).toMatchObject({ rev: 2, fields: { remark: 'other' } });
  const report = await syncOnce(phone);
  expect(report.outcomes).toMatchObject([{ outcome: 'conflict_kept' }]);
  expect((await phone.conflicts()).map(({ record }) => record?.fields.kept)).toEqual([[{ value: 'other' }]]);
});

it('takes a new client id when the server lost more than it had promised to keep', async () => {
  const { server, phone, purge, store } = await setUp();
  const copy = server.snapshot();
  server.durable = (last) => last;
  await recordReading(phone, purge, '7.10');
  await syncOnce(phone);
  expect(await store.outbox()).toEqual([]);
  server.restore(copy);
  await recordReading(phone, purge, '7.20');
  const report = await syncOnce(phone);
  expect(report).toMatchObject({ newIdentities: 1, problem: null, unsent: { count: 0 } });
  expect(phsOn(server)).toEqual(['7.00', '7.20']);
});

it('says again also what it had said under a client id that it gave up', async () => {
  const { server, phone, purge } = await setUp();
  const copy = server.snapshot();
  await recordReading(phone, purge, '7.10');
  await syncOnce(phone);
  const { client } = await phone.identity();
  server.bend = (said, { method, body }) => {
    const owned = method === 'POST' && body.includes(`"client":"${client}"`);
    return owned ? { status: 409, body: { code: 'client_of_other', status: 409 } } : said;
  };
  await recordReading(phone, purge, '7.20');
  await syncOnce(phone);
  expect((await phone.identity()).client).not.toBe(client);
  server.restore(copy, EPOCH_2);
  await syncOnce(phone);
  await syncOnce(phone);
  expect(phsOn(server)).toEqual(['7.00', '7.10', '7.20']);
  expect((await phone.all('reading')).map(({ standing }) => standing)).toEqual(['synced', 'synced', 'synced']);
  expect(await phone.conflicts()).toEqual([]);
});

it('clears one feed, keeps the outbox, and begins it anew when only its cursor is refused', async () => {
  const { server, phone, purge } = await setUp();
  await recordReading(phone, purge, '7.10');
  server.write('firm', 'crew', '00000000-0000-7000-8000-0000000000b2', { name: 'Crew 2' });
  server.fault = ({ method }) => (method === 'POST' ? 'lose-request' : 'none');
  let refusals = 1;
  server.bend = (said, { path }) => {
    if (!path.includes(encodeURIComponent('firm')) || !path.includes('cursor=') || refusals === 0) return said;
    refusals -= 1;
    return { status: 410, body: { code: 'reset_required', status: 410, reason: 'floor', lastMutation: 3 } };
  };
  const report = await syncOnce(phone);
  expect(report).toMatchObject({ resets: [{ feed: 'firm', reason: 'floor' }], unsent: { count: 1 }, replayed: 0 });
  expect(await phone.all('crew')).toHaveLength(2);
  expect(await phone.all('reading')).toHaveLength(2);
  server.fault = () => 'none';
  expect((await syncOnce(phone)).unsent.count).toBe(0);
});

it('gives up for this time, and not for ever, when the new beginning is refused too', async () => {
  const { server, phone } = await setUp();
  server.write(EVENT_FEED, 'crew', '00000000-0000-7000-8000-0000000000b3', { name: 'Crew 3' });
  server.bend = (said, { path }) =>
    path.includes('/rows') ? { status: 410, body: { code: 'reset_required', status: 410, reason: 'key' } } : said;
  const before = server.asked.length;
  const report = await syncOnce(phone);
  expect(report.problem).toMatchObject({ status: 410, reason: 'key' });
  expect(server.asked.length - before).toBeLessThan(10);
  server.bend = (said) => said;
  expect((await syncOnce(phone)).problem).toBeNull();
});

/** Bases of the lines of the last push that came, by their numbers. */
function lastBases(server: ReturnType<typeof firmServer>): Record<number, Mutation['base']> {
  const pushes = server.asked.filter(({ method }) => method === 'POST');
  const [, ...lines] = pushes.at(-1)?.body.trimEnd().split('\n') ?? [];
  const mutations = lines.map((line) => JSON.parse(line) as Mutation);
  return Object.fromEntries(mutations.map(({ mutationId, base }) => [mutationId, base]));
}

it('[B9] a push on its way while the data is set back is said again with what was on the screen', async () => {
  const { server, phone, purge } = await setUp();
  const copy = server.snapshot();
  server.write(EVENT_FEED, 'purge', purge, { remark: 'as seen' });
  await syncOnce(phone);
  await phone.amend('purge', purge, { remark: 'mine' });
  let isSetBack = false;
  server.fault = ({ method }) => {
    if (method !== 'POST' || isSetBack) return 'none';
    isSetBack = true;
    server.restore(copy);
    server.write(EVENT_FEED, 'purge', purge, { remark: 'of another, in the same revision' });
    return 'none';
  };
  const report = await syncOnce(phone);
  expect(report).toMatchObject({ problem: null, unsent: { count: 0 } });
  expect(Object.values(lastBases(server)).at(-1)).toEqual({ was: { remark: 'as seen' } });
});

it('[B9] of lines that the server knows in part, the rest goes through at the next try', async () => {
  const { server, phone, purge } = await setUp();
  await phone.amend('purge', purge, { remark: 'heard by nobody' });
  server.fault = ({ method }) => (method === 'POST' ? 'lose-response' : 'none');
  await syncOnce(phone);
  server.fault = () => 'none';
  const copy = server.snapshot();
  const crew = Object.keys(server.state.records).find((id) => server.state.records[id]?.record.kind === 'visit') ?? '';
  server.write(EVENT_FEED, 'visit', crew, { outcomeReason: 'of a time that is lost' });
  server.fault = ({ method }) => (method === 'POST' ? 'lose-request' : 'none');
  await syncOnce(phone);
  await phone.amend('visit', crew, { outcomeReason: 'mine' });
  // what was lost on the way made it careful
  phone.context.line.pushMutations = 100;
  let pushes = 0;
  server.fault = ({ method }) => {
    if (method !== 'POST') return 'none';
    pushes += 1;
    if (pushes === 1) server.restore(copy);
    return 'none';
  };
  const report = await syncOnce(phone);
  expect(report).toMatchObject({ problem: null, unsent: { count: 0 } });
  expect(pushes).toBe(2);
});
