import { expect, it } from 'vitest';
import type { FieldClient } from '../../src/client/client.ts';
import type { Change, StoredRecord } from '../../src/client/store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { recount, sameTally } from '../../src/client/tally.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import { liveOf, tallyOf } from './fake/state.ts';
import { firmServer, uuid } from './fake/world.ts';

const CREWS = 60;

async function setUp() {
  const server = firmServer();
  const phone = await openPhone({ server, clock: new SimClock(), seed: 1 });
  for (let at = 0; at < CREWS; at++) server.write('firm', 'crew', uuid(0x10_000 + at * 7_919), { name: `Crew ${at}` });
  await syncOnce(phone);
  return { server, phone };
}

async function agrees(server: ReturnType<typeof firmServer>, phone: FieldClient): Promise<boolean> {
  const tally = tallyOf(liveOf(server.state, 'firm'));
  const noted = (await phone.context.store.feeds()).find(({ feed }) => feed === 'firm');
  const stored = recount(await phone.context.store.recordsOfFeed('firm'));
  return noted !== undefined && sameTally(noted, tally) && sameTally(stored, tally);
}

type Damage = (stored: StoredRecord) => Change;
const DAMAGES: readonly [string, Damage][] = [
  [
    'a flipped character',
    (stored) => ({
      put: 'record',
      stored: { ...stored, record: { ...stored.record, fields: { ...stored.record.fields, name: 'Crev' } } },
    }),
  ],
  ['a missing row', (stored) => ({ drop: 'record', feed: 'firm', id: stored.record.id })],
  [
    'a row too many',
    (stored) => ({ put: 'record', stored: { ...stored, record: { ...stored.record, id: uuid(0x77) } } }),
  ],
  [
    'a row too many whose id begins like no other',
    (stored) => ({
      put: 'record',
      stored: { ...stored, record: { ...stored.record, id: 'f0000000-0000-7000-8000-000000000001' } },
    }),
  ],
];

it.each(DAMAGES)('finds and mends %s within two pulls, by asking for that record alone', async (_, damage) => {
  const { server, phone } = await setUp();
  for (let at = 0; at < 5; at++) {
    const stored = (await phone.context.store.recordsOfFeed('firm'))[at * 11];
    if (!stored) throw new Error('the feed is too small for this test');
    await phone.context.store.commit([damage(stored)]);
    const before = server.asked.length;
    const reports = [await syncOnce(phone), await syncOnce(phone)];
    expect(reports.flatMap(({ repaired }) => repaired)).toEqual(['firm']);
    expect(reports.flatMap(({ resets, differing }) => [...resets, ...differing])).toEqual([]);
    expect(await agrees(server, phone)).toBe(true);
    const verifies = server.asked.slice(before).filter(({ path }) => path.includes('/verify'));
    expect(verifies.length).toBeGreaterThan(0);
    expect(verifies.length).toBeLessThan(20);
  }
});

it('mends also while the server goes on', async () => {
  const { server, phone } = await setUp();
  const [stored] = await phone.context.store.recordsOfFeed('firm');
  if (!stored) throw new Error('nothing was pulled');
  await phone.context.store.commit([{ drop: 'record', feed: 'firm', id: stored.record.id }]);
  const inner = server.bend;
  let more = 0;
  server.bend = (said, asked) => {
    if (asked.path.includes('/verify')) server.write('firm', 'crew', uuid(0x90_000 + more++), { name: 'late' });
    return inner(said, asked);
  };
  const reports = [await syncOnce(phone), await syncOnce(phone), await syncOnce(phone)];
  expect(more).toBeGreaterThan(0);
  expect(reports.flatMap(({ repaired }) => repaired)).toEqual(['firm']);
  expect(await agrees(server, phone)).toBe(true);
});

it('pulls the feed anew when the search leads nowhere', async () => {
  const { server, phone } = await setUp();
  const [stored] = await phone.context.store.recordsOfFeed('firm');
  if (!stored) throw new Error('nothing was pulled');
  await phone.context.store.commit([{ drop: 'record', feed: 'firm', id: stored.record.id }]);
  server.bend = (said, { path }) => (path.includes('/verify') ? { status: 404, body: { status: 404 } } : said);
  const reports = [await syncOnce(phone), await syncOnce(phone)];
  expect(reports.flatMap(({ resets }) => resets)).toEqual([{ feed: 'firm', reason: 'differed' }]);
  expect(await agrees(server, phone)).toBe(true);
});

it('keeps what it has when the line drops during the search, and searches again later', async () => {
  const { server, phone } = await setUp();
  const [stored] = await phone.context.store.recordsOfFeed('firm');
  if (!stored) throw new Error('nothing was pulled');
  await phone.context.store.commit([{ drop: 'record', feed: 'firm', id: stored.record.id }]);
  server.fault = ({ path }) => (path.includes('/verify') ? 'lose-request' : 'none');
  const reports = [await syncOnce(phone), await syncOnce(phone)];
  expect(reports.flatMap(({ resets }) => resets)).toEqual([]);
  expect(reports.some(({ problem }) => problem?.code === 'no_answer')).toBe(true);
  expect(await phone.all('crew')).toHaveLength(CREWS + 1 - (stored.record.kind === 'crew' ? 1 : 0));
  server.fault = () => 'none';
  await syncOnce(phone);
  await syncOnce(phone);
  expect(await agrees(server, phone)).toBe(true);
});

it('says which feed still differs when the server itself counts wrongly, and does not spin', async () => {
  const { server, phone } = await setUp();
  server.bend = (said, { path }) => {
    if (path.includes('feeds/firm/rows')) return { ...said, body: { ...said.body, contentHash: '00000000000000ff' } };
    return said;
  };
  server.write('firm', 'crew', uuid(0x88), { name: 'one more' });
  const before = server.asked.length;
  const report = await syncOnce(phone);
  expect(report.differing).toEqual(['firm']);
  expect(server.asked.length - before).toBeLessThan(20);
  expect(await phone.all('crew')).toHaveLength(CREWS + 2);
});

it('counts every feed anew as often as it is told', async () => {
  const server = firmServer();
  const eager = await openPhone({ server, clock: new SimClock(), seed: 1, recountEvery: 1 });
  await syncOnce(eager);
  const [stored] = await eager.context.store.recordsOfFeed('firm');
  if (!stored) throw new Error('nothing was pulled');
  await eager.context.store.commit([{ drop: 'record', feed: 'firm', id: stored.record.id }]);
  expect((await syncOnce(eager)).repaired).toEqual(['firm']);
});
