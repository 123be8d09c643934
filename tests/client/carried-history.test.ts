import { expect, it } from 'vitest';
import { carryAnew } from '../../src/client/carry-anew.ts';
import { linesOfOneHistory } from '../../src/client/cited-feeds.ts';
import type { FieldClient } from '../../src/client/client.ts';
import { copyBytes, readCopy } from '../../src/client/outbox-copy.ts';
import type { CarriedEntry, Change } from '../../src/client/store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import type { Mutation } from '../../src/protocol/mutation.ts';
import { MOST_SEEN, type PushHeader } from '../../src/protocol/sync.ts';
import { problem } from './fake/answer.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import type { FakeServer } from './fake/server.ts';
import { CREW, EVENT, EVENT_FEED, firmServer, MEMBER, WELL } from './fake/world.ts';

const VISIT = { event: EVENT, well: WELL, crew: CREW, method: 'low-flow', arrived: '2026-05-04T10:00:00-05:00' };
const CLIENT = '01970000-0000-7000-8000-0000000000aa';

async function phoneOf(server: FakeServer, seed: number): Promise<FieldClient> {
  const phone = await openPhone({ server, clock: new SimClock(), seed, token: 'token' });
  await phone.setPerson(MEMBER);
  await syncOnce(phone);
  return phone;
}

async function carriedBy(phone: FieldClient): Promise<CarriedEntry[]> {
  return [...(await phone.context.store.carried())].sort((a, b) => a.mutationId - b.mutationId);
}

function pushesOf({ asked }: FakeServer): { readonly header: PushHeader; readonly lines: readonly Mutation[] }[] {
  return asked
    .filter(({ path }) => path.includes('carried'))
    .map(({ body }) => {
      const [header = '', ...lines] = body.trimEnd().split('\n');
      return { header: JSON.parse(header) as PushHeader, lines: lines.map((line) => JSON.parse(line) as Mutation) };
    });
}

it('[B9] a copy says of each line with which cursors it saw what it cites, also of an answered one, and passes it on', async () => {
  const server = firmServer();
  server.durable = () => 0;
  const one = await phoneOf(server, 1);
  const { id } = await one.record('visit', VISIT);
  await syncOnce(one);
  await one.amend('visit', id, { outcomeReason: 'rain' });
  await syncOnce(one);
  await one.amend('visit', id, { outcomeReason: 'lightning' });
  const cursor = (await one.context.store.feeds()).find(({ feed }) => feed === EVENT_FEED)?.cursor;
  const [two, three] = [await phoneOf(server, 2), await phoneOf(server, 3)];
  await two.importOutbox(await one.exportOutbox());
  await three.importOutbox(await two.exportOutbox());
  for (const phone of [two, three]) {
    expect((await carriedBy(phone)).map(({ seen }) => seen)).toEqual([undefined, [cursor], [cursor]]);
  }
  expect(await syncOnce(three)).toMatchObject({ carried: { pushed: 3, renumbered: 0, problem: null } });
  expect(pushesOf(server)[0]?.header.seen).toEqual([cursor]);
});

it('[B9] what a copy says of histories and cannot be read says nothing, and the line is taken', () => {
  const line = { client: CLIENT, mutationId: 1, captured: '2026-05-04T10:00:00-05:00', line: '{}' };
  const read = (seen: unknown) => readCopy(copyBytes(line.captured, [{ ...line, seen: seen as string[] }]))[0]?.seen;
  expect(read(['a cursor'])).toEqual(['a cursor']);
  for (const bad of ['a cursor', [1], [''], Array(MOST_SEEN + 1).fill('a cursor'), null]) {
    expect(read(bad)).toBeUndefined();
  }
});

function amendment(mutationId: number, more: Partial<Mutation>, entry: Partial<CarriedEntry> = {}): CarriedEntry {
  const mutation = { mutationId, verb: 'amend', kind: 'visit', id: 'v', set: { outcomeReason: 'x' }, ...more };
  const line = JSON.stringify(mutation);
  return { client: CLIENT, mutationId, captured: '', line, schemaVersion: 3, outcome: null, ...entry };
}

it('[B9] of a copy no push names more histories than a header has room for', async () => {
  const server = firmServer();
  const two = await phoneOf(server, 2);
  const cursor = (await two.context.store.feeds())[0]?.cursor ?? '';
  const at = (number: number) => JSON.stringify([...(JSON.parse(cursor) as unknown[]), number]);
  const lines = Array.from({ length: MOST_SEEN + 2 }, (_, index) => {
    return amendment(index + 1, { base: { rev: 1 } }, { seen: [at(index)] });
  });
  await two.context.store.commit(lines.map((carried): Change => ({ put: 'carried', carried })));
  await syncOnce(two);
  const [first, second] = pushesOf(server);
  expect([first?.lines.length, first?.header.seen?.length]).toEqual([MOST_SEEN, MOST_SEEN]);
  expect([second?.lines.length, second?.header.seen?.length]).toEqual([2, 2]);
});

it('[B9] only what comes after the first line of another history is said anew: fewer are offered until it is found', () => {
  const citing = [[], ['a'], ['a'], ['b'], ['b'], ['c']];
  const entries = citing.map((seen, index) => amendment(index + 1, { base: { rev: 1 } }, { seen }));
  const first = (from: number, count: number, known = 0) => {
    const batch = { first: from, schemaVersion: 3, entries: entries.slice(from - 1, from - 1 + count) };
    return linesOfOneHistory(batch, known, ({ seen = [] }) => seen);
  };
  expect([first(1, 6), first(1, 3), first(4, 3), first(4, 2)]).toEqual([3, 1, 2, 0]);
  // what the server has is given first where it alone cites, or comes before
  expect([first(2, 2, 2), first(2, 1, 1), first(1, 2, 1)]).toEqual([1, 0, 1]);
});

it('[B9] lines of another history are said anew with what was on the screen, once, whoever carries them', () => {
  const was = { outcomeReason: 'as seen' };
  const answered = { mutationId: 1, outcome: 'applied', rev: 7 } as const;
  const copy = [
    amendment(1, { base: { rev: 6 } }, { seen: ['c'], was, outcome: answered }),
    amendment(2, { base: { rev: 5, under: {} } }, { seen: ['c'], was }),
    amendment(3, { base: { after: 2 } }, { was }),
    amendment(4, { base: { after: 1 } }, { was }),
    amendment(5, { base: { rev: 4 } }, { seen: ['c'] }),
    amendment(6, { base: { was: { outcomeReason: 'long ago' } } }, { was }),
  ];
  const changes = carryAnew(copy, CLIENT, 2, 'other-history');
  const said = saidBy(changes);
  const bases = basesOf(said);
  expect(bases).toEqual([{ was }, { after: 1 }, { was }, undefined, { was: { outcomeReason: 'long ago' } }]);
  expect(said.map(({ mutationId }) => mutationId)).toEqual([1, 2, 3, 4, 5]);
  expect(said.every(({ seen, outcome }) => seen === undefined && outcome === null)).toBe(true);
  expect(carryAnew(copy, CLIENT, 2, 'other-history')).toEqual(changes);
  const usedTwice = saidBy(carryAnew(copy, CLIENT, 2));
  expect(usedTwice[0]?.client).not.toBe(said[0]?.client);
  expect(usedTwice[0]?.seen).toEqual(['c']);
});

function saidBy(changes: readonly Change[]): CarriedEntry[] {
  return changes.flatMap((change) => ('put' in change && change.put === 'carried' ? [change.carried] : []));
}

function basesOf(entries: readonly CarriedEntry[]): Mutation['base'][] {
  return entries.map(({ line }) => (JSON.parse(line) as Mutation).base);
}

it('[B9] the answer to a line that stays is no base of those that are numbered anew: no copy says of what history it is', () => {
  const was = { outcomeReason: 'as seen' };
  const answered = { mutationId: 1, outcome: 'applied', rev: 7 } as const;
  const copy = [
    amendment(1, { verb: 'record' }, { outcome: answered }),
    amendment(2, { base: { after: 1 } }, { was }),
    amendment(3, { base: { after: 2 } }, { was }),
  ];
  expect(basesOf(saidBy(carryAnew(copy, CLIENT, 2)))).toEqual([{ was }, { after: 1 }]);
});

it('[B9] what was said anew from a copy that did not tell the values is not said again from one that does; the rest is', () => {
  const was = { outcomeReason: 'as seen' };
  const lines = (shown: CarriedEntry['was']) => [
    amendment(1, { base: { rev: 5 } }, { seen: ['c'], was: shown ?? null }),
    amendment(2, { id: 'w', base: { rev: 3 } }, { seen: ['c'], was: shown ?? null }),
  ];
  const held = saidBy(carryAnew(lines(null), CLIENT, 1, 'other-history'));
  expect(basesOf(held)).toEqual([undefined, undefined]);
  const later = amendment(3, { verb: 'record', id: 'x' });
  const changes = carryAnew([...held, ...lines(was), later], CLIENT, 1, 'other-history');
  expect(changes.flatMap((change) => ('drop' in change && 'mutationId' in change ? [change.mutationId] : []))).toEqual([
    1, 2, 3,
  ]);
  expect(saidBy(changes)).toMatchObject([{ client: held[0]?.client, mutationId: 3 }]);
});

it('[B9] a newer copy brings what an older one of the same lines did not say of them, and keeps their answers', async () => {
  const server = firmServer();
  server.durable = () => 0;
  const one = await phoneOf(server, 1);
  const { id } = await one.record('visit', VISIT);
  await syncOnce(one);
  await one.amend('visit', id, { outcomeReason: 'rain' });
  const copy = await one.exportOutbox();
  const bare = readCopy(copy).map(({ was: _was, seen: _seen, ...line }) => line);
  const two = await phoneOf(server, 2);
  await two.importOutbox(copyBytes('2026-05-04T10:00:00-05:00', bare));
  await syncOnce(two);
  expect(await two.importOutbox(copy)).toEqual({ taken: 0, known: 2 });
  const [, line] = await carriedBy(two);
  expect(line).toMatchObject({ was: { outcomeReason: null }, seen: readCopy(copy)[1]?.seen });
  expect(line?.outcome).not.toBeNull();
  // and an older one takes nothing away
  await two.importOutbox(copyBytes('2026-05-04T10:00:00-05:00', bare));
  expect((await carriedBy(two))[1]).toEqual(line);
});

it('[B9] what the server has of a copy gets its answers under its numbers, and only the rest is said anew', async () => {
  const server = firmServer();
  server.durable = () => 0;
  const [one, two] = [await phoneOf(server, 1), await phoneOf(server, 2)];
  const { id } = await one.record('visit', VISIT);
  await syncOnce(one);
  const copy = server.snapshot();
  server.write(EVENT_FEED, 'visit', id, { outcomeReason: 'as seen' });
  await syncOnce(one);
  await one.amend('visit', id, { outcomeReason: 'mine' });
  await two.importOutbox(await one.exportOutbox());
  server.restore(copy);
  server.write(EVENT_FEED, 'visit', id, { outcomeReason: 'of another, in the same revision' });
  const { carried } = await syncOnce(two);
  expect(carried).toMatchObject({ pushed: 2, renumbered: 1, unanswered: 0, problem: null });
  const last = pushesOf(server).flatMap(({ header, lines }) =>
    lines.map((line) => ({ client: header.client, ...line })),
  );
  expect(last.filter(({ verb }) => verb === 'amend').at(-1)).toMatchObject({
    base: { was: { outcomeReason: 'as seen' } },
  });
  expect(last.at(-1)?.client).not.toBe((await one.identity()).client);
});

it('[B9] lines of an older app go with their histories also in the first push of a process, or wait', async () => {
  const server = firmServer();
  const one = await phoneOf(server, 1);
  const { id } = await one.record('visit', VISIT);
  await syncOnce(one);
  await one.record('visit', VISIT);
  await one.amend('visit', id, { outcomeReason: 'rain' });
  const copy = readCopy(await one.exportOutbox()).map((line) => ({ ...line, schemaVersion: 2 }));
  const two = await openPhone({ server, clock: new SimClock(), seed: 2, token: 'token' });
  await two.importOutbox(copyBytes('2026-05-04T10:00:00-05:00', copy));
  server.fault = ({ path }) => (path.includes('/feeds?') ? 'busy' : 'none');
  expect(await syncOnce(two)).toMatchObject({ carried: { pushed: 1, unanswered: 1, problem: { status: 503 } } });
  server.fault = () => 'none';
  expect(await syncOnce(two)).toMatchObject({ carried: { pushed: 1, unanswered: 0, problem: null } });
  const headers = pushesOf(server).map(({ header }) => header);
  expect(headers.map(({ first, seen }) => [first, seen])).toEqual([
    [2, undefined],
    [3, copy[1]?.seen],
  ]);
});

it('[B9] a token that was revoked, and may not ask for the version, hands in what it carries all the same', async () => {
  const server = firmServer();
  const one = await phoneOf(server, 1);
  const { id } = await one.record('visit', VISIT);
  await syncOnce(one);
  await one.amend('visit', id, { outcomeReason: 'rain' });
  const copy = readCopy(await one.exportOutbox()).map((line) => ({ ...line, schemaVersion: 2 }));
  const two = await openPhone({ server, clock: new SimClock(), seed: 2, token: 'token' });
  await two.importOutbox(copyBytes('2026-05-04T10:00:00-05:00', copy));
  server.bend = (said, { method }) => (method === 'GET' ? problem(401, 'unauthenticated') : said);
  expect(await syncOnce(two)).toMatchObject({ carried: { pushed: 1, unanswered: 0, problem: null } });
});
