import { expect, it } from 'vitest';
import { syncOnce } from '../../src/client/sync.ts';
import { LIMITS } from '../../src/protocol/limits.ts';
import { pushHeader } from '../../src/protocol/sync.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import type { Fault } from './fake/server.ts';
import { EVENT_FEED, firmServer, MEMBER, recordPurge, recordReading, uuid } from './fake/world.ts';

async function phoneWithWork(readings = 3) {
  const server = firmServer();
  const clock = new SimClock();
  const phone = await openPhone({ server, clock, seed: 1 });
  await phone.setPerson(MEMBER);
  const purge = await recordPurge(phone);
  const ids: string[] = [];
  for (let at = 0; at < readings; at++) {
    clock.pass(300_000);
    ids.push((await recordReading(phone, purge, `7.${at}`)).id);
  }
  return { server, clock, phone, purge, ids };
}

function pushesTo(server: ReturnType<typeof firmServer>): string[] {
  return server.asked.filter(({ method }) => method === 'POST').map(({ body }) => body);
}

function linesOf(body: string | undefined): string[] {
  return (body ?? '').split('\n').slice(1, -1);
}

/** The faults in order, then none. */
function inTurn(faults: readonly Fault[]): () => Fault {
  const left = [...faults];
  return () => left.shift() ?? 'none';
}

it('pushes the header and the stored lines, and reports what became of them', async () => {
  const { server, phone } = await phoneWithWork();
  const stored = (await phone.context.store.outbox()).map(({ line }) => line);
  const report = await syncOnce(phone);
  const [body] = pushesTo(server);
  expect(pushHeader.parse(JSON.parse(body?.split('\n')[0] ?? ''))).toMatchObject({
    first: 1,
    count: 5,
    pending: { count: 0, oldest: null },
    sent: { boot: 'boot-1' },
  });
  expect(linesOf(body)).toEqual(stored);
  expect(report).toMatchObject({ pushed: 5, problem: null, unsent: { count: 0 } });
  expect(report.outcomes.map(({ outcome }) => outcome)).toEqual(Array(5).fill('applied'));
});

it.each<Fault>(['lose-request', 'lose-response', 'cut-request', 'cut-response', 'portal', 'gateway'])(
  'after %s keeps every line, and says the same bytes again with one effect each',
  async (fault) => {
    const { server, phone, purge } = await phoneWithWork();
    server.fault = ({ method }) => (method === 'POST' ? fault : 'none');
    const lost = await syncOnce(phone);
    expect(lost.problem).not.toBeNull();
    expect(lost.unsent.count).toBe(5);
    await recordReading(phone, purge, '7.77');
    server.fault = () => 'none';
    const report = await syncOnce(phone);
    expect(report).toMatchObject({ pushed: 6, problem: null, unsent: { count: 0 } });
    const pushed = pushesTo(server).map(linesOf);
    const again = pushed.slice(1).flat();
    expect(again.slice(0, pushed[0]?.length)).toEqual(pushed[0]);
    expect(Object.values(server.state.effects)).toEqual(Array(6).fill(1));
  },
);

it('matches answers by number when a push arrives twice', async () => {
  const { server, phone } = await phoneWithWork();
  server.fault = inTurn(['twice']);
  expect(await syncOnce(phone)).toMatchObject({ pushed: 5, unsent: { count: 0 } });
  expect(Object.values(server.state.effects)).toEqual(Array(5).fill(1));
});

it('does not rely on the order of the answers', async () => {
  const { server, phone, ids } = await phoneWithWork();
  await phone.voidRecord('reading', ids[0] ?? '', 'wrong well');
  await phone.voidRecord('reading', ids[0] ?? '', 'said twice');
  server.bend = (said, { method }) =>
    method === 'POST'
      ? { ...said, body: { ...said.body, outcomes: (said.body.outcomes as object[]).toReversed() } }
      : said;
  await syncOnce(phone);
  expect((await phone.troubles()).map(({ mutationId, outcome }) => [mutationId, outcome.mutationId])).toEqual([[7, 7]]);
});

it('waits as long as a busy server asks, and loses nothing', async () => {
  const { server, phone } = await phoneWithWork();
  server.fault = () => 'busy';
  const report = await syncOnce(phone);
  expect(report).toMatchObject({ retryAfterMs: 7_000, pushed: 0, unsent: { count: 5 }, problem: { status: 503 } });
  server.fault = () => 'none';
  expect((await syncOnce(phone)).unsent.count).toBe(0);
});

it('splits a push that is too large, and stops only at a single line that is', async () => {
  const { server, phone } = await phoneWithWork(9);
  server.maxPushBytes = 1_800;
  expect(await syncOnce(phone)).toMatchObject({ pushed: 11, problem: null, unsent: { count: 0 } });
  const sizes = pushesTo(server).map((body) => linesOf(body).length);
  expect(sizes[0]).toBe(11);
  expect(Math.min(...sizes)).toBeGreaterThan(0);
  server.maxPushBytes = 50;
  await phone.voidRecord('purge', (await phone.all('purge'))[0]?.record.id ?? '', 'not needed');
  expect(await syncOnce(phone)).toMatchObject({ pushed: 0, problem: { status: 413 }, unsent: { count: 1 } });
});

it('gets through a line that drops every large body, by halving what it sends', async () => {
  const { server, phone } = await phoneWithWork(38);
  server.fault = ({ method, body }) => (method === 'POST' && linesOf(body).length > 6 ? 'lose-request' : 'none');
  let syncs = 0;
  while ((await syncOnce(phone)).unsent.count > 0 && syncs < 30) syncs += 1;
  expect(syncs).toBeLessThan(30);
  expect(Object.keys(server.state.effects)).toHaveLength(40);
});

it('keeps batches within the limits and in order', async () => {
  const { server, phone } = await phoneWithWork(LIMITS.pushMutations + 20);
  await syncOnce(phone);
  const bodies = pushesTo(server);
  expect(bodies.map((body) => linesOf(body).length)).toEqual([LIMITS.pushMutations, 22]);
  expect(JSON.parse(bodies[0]?.split('\n')[0] ?? '')).toMatchObject({ pending: { count: 22 } });
  const numbers = bodies.flatMap(linesOf).map((line) => (JSON.parse(line) as { mutationId: number }).mutationId);
  expect(numbers).toEqual(numbers.map((_, at) => at + 1));
});

it('goes on past what is set aside or refused, and keeps it listed until somebody has seen it', async () => {
  const { server, phone, ids } = await phoneWithWork();
  const [id = ''] = ids;
  await phone.voidRecord('reading', id, 'wrong well');
  await phone.voidRecord('reading', id, 'wrong well, said twice');
  const orphan = await recordReading(phone, uuid(99), '6.50');
  const last = await phone.amend('reading', ids[1] ?? '', { ph: '7.05' }, { reason: 'misread' });
  const report = await syncOnce(phone);
  expect(report.outcomes.map(({ outcome }) => outcome)).toEqual([
    ...Array(6).fill('applied'),
    'refused',
    'set_aside',
    'applied',
  ]);
  expect(report).toMatchObject({ unsent: { count: 0 }, problem: null });
  expect((await phone.one(ids[1] ?? ''))?.record).toMatchObject({ mutation: last.mutationId, fields: { ph: '7.05' } });
  const found = await phone.troubles();
  expect(found.map(({ outcome }) => outcome.outcome)).toEqual(['refused', 'set_aside']);
  expect(found[1]?.mutation).toMatchObject({ id: orphan.id, set: { ph: '6.50' } });
  expect((await phone.one(orphan.id))?.standing).toBe('set-aside');
  const { client } = await phone.identity();
  for (const { mutationId } of found) await phone.dismiss(client, mutationId);
  await syncOnce(phone);
  expect(await phone.troubles()).toEqual([]);
  expect(await phone.context.store.outbox()).toEqual([]);
  expect(server.state.records[ids[1] ?? '']?.record.fields.ph).toBe('7.05');
});

it('drops from the list what was set aside once the record that it waited for has come', async () => {
  const { server, phone } = await phoneWithWork();
  const purge = uuid(99);
  const orphan = await recordReading(phone, purge, '6.50');
  await syncOnce(phone);
  expect(await phone.troubles()).toHaveLength(1);
  const visit = (await phone.all('visit'))[0]?.record.id ?? '';
  server.write(EVENT_FEED, 'purge', purge, { visit, began: '2026-05-04T10:05:00-05:00' });
  await syncOnce(phone);
  expect(await phone.one(orphan.id)).toMatchObject({ standing: 'synced', record: { rev: 1 } });
  expect(await phone.troubles()).toEqual([]);
  await syncOnce(phone);
  expect(await phone.context.store.outbox()).toEqual([]);
});

it('an outcome of a newer server that it does not know is an answer, too', async () => {
  const { server, phone } = await phoneWithWork();
  server.bend = (said, { method }) => {
    if (method !== 'POST') return said;
    const outcomes = (said.body.outcomes as object[]).map((outcome) => ({
      ...outcome,
      outcome: 'applied_with_thanks',
    }));
    return { ...said, body: { ...said.body, outcomes, mood: 'good' } };
  };
  expect(await syncOnce(phone)).toMatchObject({ pushed: 5, problem: null, unsent: { count: 0 } });
});

it('does not spin when the server answers without a word about the lines', async () => {
  const { server, phone } = await phoneWithWork();
  server.bend = (said, { method }) => (method === 'POST' ? { ...said, body: { ...said.body, outcomes: [] } } : said);
  expect(await syncOnce(phone)).toMatchObject({
    pushed: 0,
    problem: { code: 'unanswered_lines' },
    unsent: { count: 5 },
  });
  expect(pushesTo(server)).toHaveLength(1);
});

it('keeps what was answered until the server names it durable, and drops it then', async () => {
  const { server, phone } = await phoneWithWork();
  server.durable = () => 2;
  await syncOnce(phone);
  expect((await phone.context.store.outbox()).map(({ mutationId }) => mutationId)).toEqual([3, 4, 5]);
  server.durable = (last) => last;
  await syncOnce(phone);
  expect(await phone.context.store.outbox()).toEqual([]);
});

it('has one push in flight: a second sync waits for the first', async () => {
  const { server, phone } = await phoneWithWork();
  let inFlight = 0;
  let most = 0;
  const inner = server.fetch;
  server.fetch = async (url, request) => {
    inFlight += 1;
    most = Math.max(most, inFlight);
    await new Promise((done) => setTimeout(done, 1));
    const response = await inner(url, request);
    inFlight -= 1;
    return response;
  };
  const slow = await openPhone({ server, clock: new SimClock(), seed: 1, store: phone.context.store });
  const reports = await Promise.all([syncOnce(slow), syncOnce(slow), syncOnce(slow)]);
  expect(most).toBe(1);
  expect(reports.map(({ pushed }) => pushed)).toEqual([5, 0, 0]);
});

it('records while a push is under way', async () => {
  const { server, phone, purge } = await phoneWithWork();
  const inner = server.fetch;
  let recorded = false;
  server.fetch = async (url, request) => {
    if (request.method === 'POST' && !recorded) {
      recorded = true;
      await recordReading(phone, purge, '7.99');
    }
    return inner(url, request);
  };
  const slow = await openPhone({ server, clock: new SimClock(), seed: 1, store: phone.context.store });
  expect(await syncOnce(slow)).toMatchObject({ pushed: 6, unsent: { count: 0 } });
});
