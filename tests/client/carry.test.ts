import { describe, expect, it } from 'vitest';
import type { FieldClient } from '../../src/client/client.ts';
import { identityOf } from '../../src/client/context.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import type { Change } from '../../src/client/store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import type { FakeServer } from './fake/server.ts';
import { liveOf } from './fake/state.ts';
import { CREW, EVENT, EVENT_FEED, firmServer, MEMBER, WELL } from './fake/world.ts';

const VISIT = { event: EVENT, well: WELL, crew: CREW, method: 'low-flow', arrived: '2026-05-04T10:00:00-05:00' };

interface Pair {
  readonly server: FakeServer;
  readonly one: FieldClient;
  readonly two: FieldClient;
}

async function pair(): Promise<Pair> {
  const server = firmServer();
  const clock = new SimClock();
  const one = await openPhone({ server, clock, seed: 1, token: 'token' });
  const two = await openPhone({ server, clock, seed: 2, token: 'token' });
  for (const phone of [one, two]) {
    await phone.setPerson(MEMBER);
    await syncOnce(phone);
  }
  return { server, one, two };
}

function visitsAt(server: FakeServer): string[] {
  const visits = liveOf(server.state, EVENT_FEED).filter(({ kind }) => kind === 'visit');
  return visits.map(({ id }) => id).sort();
}

async function recorded(phone: FieldClient, count: number): Promise<string[]> {
  const ids: string[] = [];
  for (let at = 0; at < count; at++) ids.push((await phone.record('visit', VISIT)).id);
  return ids.sort();
}

it('hands in what a partner captured, in its name, and lets go of it once the server names it as safe', async () => {
  const { server, one, two } = await pair();
  server.durable = () => 0;
  const ids = await recorded(one, 3);
  expect(await two.importOutbox(await one.exportOutbox())).toEqual({ taken: 3, known: 0 });
  expect(await syncOnce(two)).toMatchObject({ pushed: 0, carried: { pushed: 3, unanswered: 0, problem: null } });
  expect(visitsAt(server)).toEqual(ids);
  expect(new Set(liveOf(server.state, EVENT_FEED).map(({ client }) => client))).toContain(
    (await one.identity()).client,
  );
  expect(await two.context.store.carried()).toHaveLength(3);
  // Nothing is said twice but one line, which asks how much is safe by now.
  const before = server.asked.length;
  await syncOnce(two);
  const pushes = server.asked.slice(before).filter(({ method }) => method === 'POST');
  expect(pushes.map(({ body }) => body.trim().split('\n').length)).toEqual([2]);
  server.durable = (last) => last;
  await syncOnce(two);
  expect(await two.context.store.carried()).toEqual([]);
});

it('has no second effect, whoever of the two comes first and however often', async () => {
  const { server, one, two } = await pair();
  const ids = await recorded(one, 2);
  await two.importOutbox(await one.exportOutbox());
  await syncOnce(two);
  const more = await recorded(one, 1);
  expect(await syncOnce(one)).toMatchObject({ pushed: 3, newIdentities: 0, problem: null, differing: [] });
  await two.importOutbox(await one.exportOutbox());
  await syncOnce(two);
  await syncOnce(one);
  expect(visitsAt(server)).toEqual([...ids, ...more].sort());
  expect(Object.values(server.state.effects).every((times) => times === 1)).toBe(true);
});

it('gives back to a server that was set back what only the partner still has', async () => {
  const { server, one, two } = await pair();
  server.durable = () => 0;
  const copy = server.snapshot();
  const ids = await recorded(one, 3);
  await two.importOutbox(await one.exportOutbox());
  await syncOnce(two);
  server.restore(copy);
  expect(visitsAt(server)).toEqual([]);
  expect(await syncOnce(two)).toMatchObject({ carried: { unanswered: 0, problem: null } });
  expect(visitsAt(server)).toEqual(ids);
});

it('carries on for a third phone what it carries, and adds what a newer copy has', async () => {
  const { server, one, two } = await pair();
  const three = await openPhone({ server, clock: new SimClock(), seed: 3, token: 'token' });
  const first = await recorded(one, 2);
  await two.importOutbox(await one.exportOutbox());
  const second = await recorded(one, 1);
  expect(await two.importOutbox(await one.exportOutbox())).toEqual({ taken: 1, known: 2 });
  const own = await recorded(two, 1);
  expect(await three.importOutbox(await two.exportOutbox())).toEqual({ taken: 4, known: 0 });
  await syncOnce(three);
  expect(visitsAt(server)).toEqual([...first, ...second, ...own].sort());
});

it('keeps everything while there is no answer, and what is in its way is in the way of nothing else', async () => {
  const { server, one, two } = await pair();
  const ids = await recorded(one, 2);
  await two.importOutbox(await one.exportOutbox());
  server.fault = ({ path }) => (path.includes('carried') ? 'lose-response' : 'none');
  const own = await recorded(two, 1);
  expect(await syncOnce(two)).toMatchObject({ pushed: 1, problem: null, carried: { unanswered: 2, pushed: 0 } });
  server.fault = () => 'none';
  expect(await syncOnce(two)).toMatchObject({ carried: { unanswered: 0, pushed: 2, problem: null } });
  expect(visitsAt(server)).toEqual([...ids, ...own].sort());
});

it('takes a copy whole or not at all: cut, changed, of a newer app, or with other content under a number', async () => {
  const { one, two } = await pair();
  await recorded(one, 3);
  const copy = await one.exportOutbox();
  for (let at = 0; at < copy.length; at += 13) {
    const changed = Uint8Array.from(copy);
    changed[at] = (changed[at] ?? 0) ^ 1;
    await expect((async () => two.importOutbox(changed))()).rejects.toMatchObject({ code: 'unreadable_copy' });
    await expect((async () => two.importOutbox(copy.slice(0, at)))()).rejects.toMatchObject({
      code: 'unreadable_copy',
    });
  }
  expect(await two.context.store.carried()).toEqual([]);
  await two.importOutbox(copy);
  // A clone of the first phone goes another way from here.
  const [entry] = await one.context.store.outbox();
  if (!entry) throw new Error('the outbox is empty');
  await one.context.store.commit([
    { put: 'entry', entry: { ...entry, line: entry.line.replace('low-flow', 'volume') } },
  ]);
  await recorded(one, 1);
  const other = await one.exportOutbox();
  await expect(two.importOutbox(other)).rejects.toMatchObject({ code: 'copy_differs' });
  expect(await two.context.store.carried()).toHaveLength(3);
});

it('does not take its own lines back, and keeps every sign of a line', async () => {
  const { one, two } = await pair();
  await one.record('visit', { ...VISIT, outcome: 'no-access', outcomeReason: 'Tor zu: "öffnen" µ \u{1F6A7} \\u00b5' });
  const copy = await one.exportOutbox();
  expect(copy.every((byte) => byte < 128)).toBe(true);
  expect(await one.importOutbox(copy)).toEqual({ taken: 0, known: 1 });
  await two.importOutbox(copy);
  const lines = async (phone: FieldClient) => (await phone.context.store.outbox()).map(({ line }) => line);
  expect((await two.context.store.carried()).map(({ line }) => line)).toEqual(await lines(one));
});

/** A phone goes on from an older backup of itself, on its replacement. */
async function onBackup(server: FakeServer, phone: FieldClient, work: () => Promise<unknown>): Promise<FieldClient> {
  const store = memoryStore();
  const { store: old } = phone.context;
  const entries = (await old.outbox()).map((entry): Change => ({ put: 'entry', entry }));
  await store.commit([{ put: 'identity', identity: await identityOf(old) }, ...entries]);
  await work();
  return openPhone({ server, clock: new SimClock(), seed: 7, token: 'token', store });
}

describe('the replacement of a drowned phone, on a backup, has used its numbers first', () => {
  async function drowned() {
    const world = await pair();
    const { server, one, two } = world;
    const [kept = ''] = await recorded(one, 1);
    const lost: string[] = [];
    const replacement = await onBackup(server, one, async () => {
      lost.push(...(await recorded(one, 2)));
      await one.amend('visit', kept, { outcomeReason: 'rain' });
      await one.amend('visit', lost[0] ?? '', { outcomeReason: 'lightning' });
      await two.importOutbox(await one.exportOutbox());
    });
    const own = await recorded(replacement, 2);
    expect(await syncOnce(replacement)).toMatchObject({ pushed: 3, problem: null });
    return { ...world, kept, lost, own, replacement };
  }

  it('what only the copy has is said under a client id of its own, once, whoever carries it', async () => {
    const { server, one, two, kept, lost, own, replacement } = await drowned();
    const three = await openPhone({ server, clock: new SimClock(), seed: 3, token: 'token' });
    await three.importOutbox(await one.exportOutbox());
    const report = await syncOnce(two);
    expect(report).toMatchObject({ carried: { pushed: 5, renumbered: 4, unanswered: 0, problem: null } });
    expect(visitsAt(server)).toEqual([kept, ...lost, ...own].sort());
    const reasons = () => liveOf(server.state, EVENT_FEED).map(({ fields }) => fields.outcomeReason ?? null);
    const said = reasons();
    expect(said).toContain('rain');
    expect(said).toContain('lightning');
    const effects = { ...server.state.effects };
    await three.importOutbox(await two.exportOutbox());
    for (const phone of [three, two, replacement]) {
      expect(await syncOnce(phone)).toMatchObject({ problem: null, carried: { unanswered: 0, problem: null } });
    }
    expect(server.state.effects).toEqual(effects);
    expect(reasons()).toEqual(said);
  });

  it('also where the server had answered the copy and was set back to before it', async () => {
    const { server, one, two } = await pair();
    const [kept = ''] = await recorded(one, 1);
    server.durable = () => 0;
    const lost: string[] = [];
    const replacement = await onBackup(server, one, async () => {
      lost.push(...(await recorded(one, 3)));
      await two.importOutbox(await one.exportOutbox());
    });
    const empty = server.snapshot();
    expect(await syncOnce(two)).toMatchObject({ carried: { pushed: 4, renumbered: 0 } });
    server.restore(empty);
    const own = await recorded(replacement, 4);
    await syncOnce(replacement);
    expect(await syncOnce(two)).toMatchObject({ carried: { renumbered: 3, unanswered: 0, problem: null } });
    expect(visitsAt(server)).toEqual([kept, ...lost, ...own].sort());
  });

  it('a later copy of the same phone adds to it, and one of its replacement is taken', async () => {
    const { server, one, two, kept, lost, own, replacement } = await drowned();
    await syncOnce(two);
    const more = await recorded(one, 1);
    await two.importOutbox(await one.exportOutbox());
    expect(await syncOnce(two)).toMatchObject({ carried: { renumbered: 5, unanswered: 0, problem: null } });
    const last = await recorded(replacement, 1);
    await two.importOutbox(await replacement.exportOutbox());
    expect(await syncOnce(two)).toMatchObject({ carried: { unanswered: 0, problem: null } });
    expect(visitsAt(server)).toEqual([kept, ...lost, ...own, ...more, ...last].sort());
    expect(Object.values(server.state.effects).every((times) => times === 1)).toBe(true);
  });
});
