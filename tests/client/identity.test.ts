import { expect, it } from 'vitest';
import { memoryStore } from '../../src/client/memory-store.ts';
import type { Change, ClientStore } from '../../src/client/store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import type { Mutation } from '../../src/protocol/mutation.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import { EVENT_FEED, firmServer, MEMBER, PARTNER, recordPurge, recordReading } from './fake/world.ts';

/** What a backup of the phone holds. */
async function copyOf(store: ClientStore): Promise<ClientStore> {
  const copy = memoryStore();
  const identity = await store.identity();
  const changes: Change[] = identity ? [{ put: 'identity', identity }] : [];
  for (const entry of await store.outbox()) changes.push({ put: 'entry', entry });
  for (const state of await store.feeds()) {
    changes.push({ put: 'feed', state });
    for (const stored of await store.recordsOfFeed(state.feed)) changes.push({ put: 'record', stored });
  }
  await copy.commit(changes);
  return copy;
}

async function setUp() {
  const server = firmServer();
  const clock = new SimClock();
  const store = memoryStore();
  const phone = await openPhone({ server, clock, seed: 1, store });
  await phone.setPerson(MEMBER);
  const purge = await recordPurge(phone);
  return { server, clock, store, phone, purge };
}

async function linesOf(store: ClientStore): Promise<Mutation[]> {
  const entries = [...(await store.outbox())].sort((a, b) => a.mutationId - b.mutationId);
  return entries.map((entry) => JSON.parse(entry.line) as Mutation);
}

it('a restored backup takes a new client id and says again only what was not answered', async () => {
  const { server, clock, store, phone, purge } = await setUp();
  const first = await recordReading(phone, purge, '7.10');
  const backup = await copyOf(store);
  await recordReading(phone, purge, '7.20');
  await recordReading(phone, purge, '7.30');
  await syncOnce(phone);
  const restored = await openPhone({ server, clock, seed: 2, token: 'token-1', store: backup });
  const old = await restored.identity();
  const second = await recordReading(restored, purge, '7.40');
  const amended = await restored.amend('reading', second.id, { ph: '7.41' }, { reason: 'misread' });
  expect(amended.mutationId).toBe(5);
  const report = await syncOnce(restored);
  expect(report).toMatchObject({ newIdentities: 1, problem: null, unsent: { count: 0 } });
  const now = await restored.identity();
  expect(now.client).not.toBe(old.client);
  expect(server.state.receipts[old.client]?.lines).toHaveLength(5);
  // What the phone had in common with its backup was answered under the old id; only the rest was said anew.
  const anew = (server.state.receipts[now.client]?.lines ?? []).map((line) => JSON.parse(line) as Mutation);
  expect(anew).toMatchObject([
    { mutationId: 1, verb: 'record', id: second.id },
    { mutationId: 2, verb: 'amend', base: { after: 1 }, set: { ph: '7.41' } },
  ]);
  expect((await restored.all('reading')).map(({ record }) => record.fields.ph).sort()).toEqual([
    '7.10',
    '7.20',
    '7.30',
    '7.41',
  ]);
  expect((await restored.one(first.id))?.record.rev).toBe(1);
  expect(await restored.conflicts()).toEqual([]);
});

it('a backup with nothing new finds out that its number is used up before it makes another', async () => {
  const { server, clock, store, phone, purge } = await setUp();
  const backup = await copyOf(store);
  await recordReading(phone, purge, '7.20');
  await syncOnce(phone);
  const restored = await openPhone({ server, clock, seed: 2, token: 'token-1', store: backup });
  const report = await syncOnce(restored);
  expect(report.newIdentities).toBe(1);
  await recordReading(restored, purge, '7.50');
  expect(await syncOnce(restored)).toMatchObject({ newIdentities: 0, problem: null, unsent: { count: 0 } });
  expect(await restored.all('reading')).toHaveLength(2);
});

it('a backup in which everything was answered finds out by the list of feeds', async () => {
  const { server, clock, store, phone, purge } = await setUp();
  await syncOnce(phone);
  const backup = await copyOf(store);
  await recordReading(phone, purge, '7.20');
  await syncOnce(phone);
  const restored = await openPhone({ server, clock, seed: 2, token: 'token-1', store: backup });
  const before = server.asked.length;
  expect(await syncOnce(restored)).toMatchObject({ newIdentities: 1, problem: null });
  expect(server.asked.slice(before).filter(({ method }) => method === 'POST')).toEqual([]);
  expect(await restored.identity()).toMatchObject({ nextMutation: 1, person: MEMBER });
});

it('[E7] asks for all that it has not heard of before it gives its client id up, a line at a time if need be', async () => {
  const { server, clock, store, phone, purge } = await setUp();
  for (let at = 0; at < 4; at++) await recordReading(phone, purge, `7.1${at}`);
  const backup = await copyOf(store);
  await recordReading(phone, purge, '7.20');
  await syncOnce(phone);
  const restored = await openPhone({ server, clock, seed: 2, token: 'token-1', store: backup });
  const { client: old } = await restored.identity();
  restored.context.line.pushMutations = 1;
  const report = await syncOnce(restored);
  expect(report).toMatchObject({ pushed: 6, newIdentities: 1, restored: true, problem: null, unsent: { count: 0 } });
  const { client, formerly, nextMutation } = await restored.identity();
  expect([formerly, nextMutation]).toEqual([old, 1]);
  expect(server.state.receipts[client]).toBeUndefined();
  expect(await restored.all('reading')).toHaveLength(5);
});

it('finds the line that another device has used also when the server does not name it', async () => {
  const { server, clock, store, phone, purge } = await setUp();
  for (let at = 0; at < 6; at++) await recordReading(phone, purge, `7.1${at}`);
  const backup = await copyOf(store);
  await recordReading(phone, purge, '7.20');
  await syncOnce(phone);
  server.bend = (said) => {
    const { mutation, ...rest } = said.body;
    return said.status === 409 && mutation !== undefined ? { ...said, body: rest } : said;
  };
  const restored = await openPhone({ server, clock, seed: 2, token: 'token-1', store: backup });
  await recordReading(restored, purge, '7.30');
  expect(await syncOnce(restored)).toMatchObject({ newIdentities: 1, problem: null, unsent: { count: 0 } });
  expect(server.state.receipts[(await restored.identity()).client]?.lines).toHaveLength(1);
  expect(await restored.all('reading')).toHaveLength(8);
});

it('two phones that run on one copy each keep every record of both', async () => {
  const { server, clock, store, phone, purge } = await setUp();
  await syncOnce(phone);
  const twin = await openPhone({ server, clock, seed: 9, store: await copyOf(store) });
  await twin.setPerson(PARTNER);
  for (let at = 0; at < 5; at++) {
    await recordReading(phone, purge, `7.1${at}`);
    await recordReading(twin, purge, `7.2${at}`);
    await syncOnce(at % 2 === 0 ? phone : twin);
  }
  for (const one of [phone, twin, phone]) await syncOnce(one);
  expect((await phone.all('reading')).map(({ record }) => record.fields.ph).sort()).toEqual(
    ['7.10', '7.11', '7.12', '7.13', '7.14', '7.20', '7.21', '7.22', '7.23', '7.24'].sort(),
  );
  expect((await phone.identity()).client).not.toBe((await twin.identity()).client);
  expect(await twin.all('reading')).toEqual(await phone.all('reading'));
});

it('[E5] says which list of feeds it knew before it pushes under a client id that the server has not heard of', async () => {
  const { server, clock, store, phone } = await setUp();
  await syncOnce(phone);
  await recordPurge(phone);
  const backup = await copyOf(store);
  const inTheMiddle = async () => {
    const restored = await openPhone({ server, clock, seed: 2, token: 'token-1', store: await copyOf(backup) });
    await recordPurge(restored);
    const from = server.asked.length;
    const report = await syncOnce(restored);
    const { client, seen } = await restored.identity();
    const asked = server.asked.slice(from).filter(({ path, body }) => path.includes(client) || body.includes(client));
    return { report, seen, asked };
  };
  await recordPurge(phone);
  await syncOnce(phone);
  const { report, seen, asked } = await inTheMiddle();
  expect(report).toMatchObject({ newIdentities: 1, problem: null, unsent: { count: 0 } });
  expect(seen).toEqual(expect.any(String));
  const [first, second] = asked;
  expect([first?.method, second?.method]).toEqual(['GET', 'POST']);
  expect(new URLSearchParams(first?.path.split('?')[1]).get('seen')).toBe(seen);
  // Where it was not heard, nothing is pushed that would be judged without it.
  let lists = 0;
  server.fault = ({ path }) => (path.includes('/feeds?') && ++lists > 1 ? 'lose-request' : 'none');
  const cut = await inTheMiddle();
  expect(cut.report).toMatchObject({ newIdentities: 1, pushed: 2, unsent: { count: 2 } });
  expect(cut.asked.some(({ method }) => method === 'POST')).toBe(false);
});

it('takes a new client id when the server says that it belongs to another token', async () => {
  const { server, phone } = await setUp();
  const { client } = await phone.identity();
  server.bend = (said, { method, body }) => {
    const owned = method === 'POST' && body.includes(`"client":"${client}"`);
    return owned ? { status: 409, body: { code: 'client_of_other', status: 409 } } : said;
  };
  expect(await syncOnce(phone)).toMatchObject({ newIdentities: 1, problem: null, unsent: { count: 0 } });
});

it('does not spin when every identity is called reused', async () => {
  const { server, phone } = await setUp();
  server.bend = (said, { method }) =>
    method === 'POST' ? { status: 409, body: { code: 'mutation_reused', status: 409 } } : said;
  const report = await syncOnce(phone);
  expect(report).toMatchObject({ problem: { code: 'mutation_reused' }, unsent: { count: 2 } });
  expect(server.asked.length).toBeLessThan(30);
});

it('keeps what a renumbered change had seen: revisions, and what lay over them of its own or of the former id', async () => {
  const { server, clock, store, phone, purge } = await setUp();
  server.durable = () => 0;
  await syncOnce(phone);
  server.write(EVENT_FEED, 'purge', purge, { ended: '2026-05-04T11:00:00-05:00' });
  server.fault = ({ path }) => (path.includes('/rows') ? 'gateway' : 'none');
  // Merged with a change that this phone has not seen.
  await phone.amend('purge', purge, { remark: 'first' });
  await syncOnce(phone);
  await phone.amend('purge', purge, { remark: 'second' });
  await phone.amend('purge', purge, { remark: 'third' });
  const visit = (await phone.all('visit'))[0]?.record.id ?? '';
  await phone.amend('visit', visit, { outcomeReason: 'rain' });
  await phone.amend('visit', visit, { outcomeReason: 'heavy rain' });
  server.fault = ({ method }) => (method === 'POST' ? 'none' : 'gateway');
  const { client } = await phone.identity();
  // Somebody else says 4 under our id.
  const twin = await openPhone({ server, clock, seed: 9, token: 'token-1', store: memoryStore() });
  const line = JSON.stringify({ mutationId: 4, verb: 'void', kind: 'visit', id: visit, reason: 'x' });
  const header = JSON.stringify({ client, schemaVersion: 1, first: 4, count: 1 });
  await twin.context.transport.push(`${header}\n${line}\n`);
  await syncOnce(phone);
  const anew = (await linesOf(store)).filter(
    (mutation) => mutation.verb === 'amend' && mutation.set?.remark !== 'first',
  );
  expect(anew.map(({ mutationId, base }) => [mutationId, base])).toEqual([
    // what lay over it stays with the former client id, and was seen in the revision that it brought
    [1, { rev: 1, under: { remark: 3 } }],
    [2, { rev: 1, under: { remark: 1 } }],
    [3, { rev: 1 }],
    [4, { rev: 1, under: { outcomeReason: 1 } }],
  ]);
});

it('keeps an answered line while an unanswered one lay over it, though it is durable', async () => {
  const { server, phone, purge } = await setUp();
  await syncOnce(phone);
  await phone.amend('purge', purge, { remark: 'first' });
  server.fault = ({ path }) => (path.includes('/rows') ? 'lose-request' : 'none');
  await syncOnce(phone);
  await phone.amend('purge', purge, { remark: 'second' });
  server.fault = ({ method }) => (method === 'POST' ? 'lose-request' : 'none');
  await syncOnce(phone);
  const kept = (await linesOf(phone.context.store)).map(({ mutationId, base }) => [mutationId, base]);
  expect(kept).toEqual([
    [3, { rev: 1 }],
    [4, { rev: 1, under: { remark: 1 } }],
  ]);
});
