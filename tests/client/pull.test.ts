import { expect, it } from 'vitest';
import { syncOnce } from '../../src/client/sync.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import { liveOf, tallyOf } from './fake/state.ts';
import {
  CREW,
  DEEP_WELL,
  EVENT,
  EVENT_2,
  EVENT_2_FEED,
  EVENT_FEED,
  FEEDS,
  firmServer,
  MEMBER,
  recordPurge,
  recordReading,
  recordVisit,
  SITE,
  uuid,
  WELL,
} from './fake/world.ts';

async function setUp() {
  const server = firmServer();
  const clock = new SimClock();
  const phone = await openPhone({ server, clock, seed: 1 });
  await phone.setPerson(MEMBER);
  return { server, clock, phone };
}

function rowsAsked(server: ReturnType<typeof firmServer>): string[] {
  return server.asked.filter(({ path }) => path.includes('/rows')).map(({ path }) => path);
}

it('pulls every feed to its tail, page after page, and asks for nothing that has not moved', async () => {
  const { server, phone } = await setUp();
  for (let at = 0; at < 2_500; at++) server.write('firm', 'crew', uuid(0x10_000 + at), { name: `Crew ${at}` });
  const report = await syncOnce(phone);
  expect(report).toMatchObject({ pulled: 2_507, problem: null, differing: [], repaired: [] });
  expect(rowsAsked(server)).toHaveLength(5);
  await syncOnce(phone);
  await syncOnce(phone);
  expect(rowsAsked(server)).toHaveLength(5);
  server.write('firm', 'crew', CREW, { name: 'Crew One' });
  expect(await syncOnce(phone)).toMatchObject({ pulled: 1 });
  expect((await phone.one(CREW))?.record).toEqual(server.state.records[CREW]?.record);
});

it('goes on where a cut bootstrap stopped', async () => {
  const { server, phone } = await setUp();
  for (let at = 0; at < 2_500; at++) server.write('firm', 'crew', uuid(0x10_000 + at), { name: `Crew ${at}` });
  let pages = 0;
  server.fault = ({ path }) => (path.includes('feeds/firm/rows') && ++pages > 2 ? 'cut-response' : 'none');
  const cut = await syncOnce(phone);
  expect(cut.problem?.code).toBe('no_answer');
  const before = rowsAsked(server).length;
  server.fault = () => 'none';
  const report = await syncOnce(phone);
  expect(report).toMatchObject({ problem: null, differing: [] });
  expect(cut.pulled + report.pulled).toBe(2_507);
  expect(rowsAsked(server)[before]).toContain('cursor=');
});

it('gets through a line that drops every large page, by halving what it asks for', async () => {
  const { server, phone } = await setUp();
  for (let at = 0; at < 300; at++) server.write('firm', 'crew', uuid(0x10_000 + at), { name: `Crew ${at}` });
  server.fault = ({ path }) =>
    Number(new URL(path, 'http://fake').searchParams.get('limit')) > 90 ? 'cut-response' : 'none';
  let syncs = 1;
  while ((await syncOnce(phone)).problem !== null && syncs < 30) syncs += 1;
  expect(syncs).toBeLessThan(30);
  expect(await phone.all('crew')).toHaveLength(301);
});

it('drops a feed that is listed no longer, and tells so', async () => {
  const { server, phone } = await setUp();
  await recordPurge(phone);
  await syncOnce(phone);
  server.feeds = () => ['firm'];
  const report = await syncOnce(phone);
  expect(report.dropped.toSorted()).toEqual([EVENT_FEED, `site:${SITE}`].toSorted());
  expect(await phone.all('well')).toEqual([]);
  expect(await phone.all('purge')).toEqual([]);
  expect(await phone.all('crew')).toHaveLength(1);
  expect(await phone.context.store.outbox()).toEqual([]);
});

it('moves a visit and what hangs on it to another event, in whichever order the two feeds come', async () => {
  for (const feeds of [
    [...FEEDS, EVENT_2_FEED],
    [EVENT_2_FEED, ...FEEDS],
  ]) {
    const { server, clock, phone } = await setUp();
    server.feeds = () => feeds;
    server.write(EVENT_2_FEED, 'event', EVENT_2, { site: SITE, name: 'Autumn round', standing: 'open' });
    const visit = await recordVisit(phone);
    const purge = await phone.record('purge', { visit, began: '2026-05-04T10:05:00-05:00' });
    const other = await openPhone({ server, clock, seed: 2 });
    await syncOnce(phone);
    await syncOnce(other);
    await phone.rehome('visit', visit, { event: EVENT_2, well: DEEP_WELL }, 'wrong event');
    expect((await phone.one(visit))?.record.fields).toMatchObject({ event: EVENT_2, well: DEEP_WELL });
    expect(await syncOnce(phone)).toMatchObject({ problem: null, differing: [], repaired: [] });
    expect(await syncOnce(other)).toMatchObject({ problem: null, differing: [], repaired: [] });
    for (const one of [phone, other]) {
      expect(await one.all('visit')).toMatchObject([
        { standing: 'synced', record: server.state.records[visit]?.record },
      ]);
      expect(await one.all('purge')).toMatchObject([{ standing: 'synced', record: { id: purge.id, rev: 2 } }]);
      expect(await one.context.store.copies(visit)).toMatchObject([{ feed: EVENT_2_FEED }]);
    }
  }
});

it('shows the newer of two copies while the feed that a record left has not been pulled', async () => {
  for (const late of [EVENT_FEED, EVENT_2_FEED]) {
    const { server, clock, phone } = await setUp();
    server.feeds = () => [EVENT_FEED, EVENT_2_FEED, 'firm', `site:${SITE}`];
    server.write(EVENT_2_FEED, 'event', EVENT_2, { site: SITE, name: 'Autumn round', standing: 'open' });
    const writer = await openPhone({ server, clock, seed: 2 });
    const first = late === EVENT_FEED ? EVENT : EVENT_2;
    const visit = await recordVisit(writer, first);
    await syncOnce(writer);
    await syncOnce(phone);
    const second = first === EVENT ? EVENT_2 : EVENT;
    await writer.rehome('visit', visit, { event: second }, 'wrong event');
    await syncOnce(writer);
    server.fault = ({ path }) => (path.includes(`${encodeURIComponent(late)}/rows`) ? 'gateway' : 'none');
    await syncOnce(phone);
    expect(await phone.context.store.copies(visit)).toHaveLength(2);
    expect((await phone.one(visit))?.record.fields.event).toBe(second);
    expect((await phone.all('visit')).map(({ record }) => record.fields.event)).toEqual([second]);
  }
});

it('takes a record whose parent has not come yet', async () => {
  const { server, phone } = await setUp();
  server.write(EVENT_FEED, 'reading', uuid(0x501), { purge: uuid(0x502), ph: '7.10' });
  expect(await syncOnce(phone)).toMatchObject({ problem: null, differing: [] });
  expect(await phone.all('reading')).toMatchObject([{ record: { fields: { purge: uuid(0x502) } } }]);
});

it('takes kinds and members of a newer server as they are, and still agrees with it', async () => {
  const { server, phone } = await setUp();
  server.write(EVENT_FEED, 'balloon-launch', uuid(0x503), { height: { value: '12.50', unit: 'ft' } });
  expect(await syncOnce(phone)).toMatchObject({ problem: null, differing: [] });
  expect(await phone.all('balloon-launch')).toHaveLength(1);
});

it('one feed that cannot be pulled does not keep the others back', async () => {
  const { server, phone } = await setUp();
  server.bend = (said, { path }) =>
    path.includes('feeds/firm/rows') ? { status: 500, body: { code: 'internal', status: 500 } } : said;
  const report = await syncOnce(phone);
  expect(report.problem).toMatchObject({ status: 500, code: 'internal' });
  expect(await phone.all('well')).toHaveLength(2);
  expect(await phone.all('event')).toHaveLength(1);
});

it('one feed that never answers delays the others by one sync', async () => {
  const { server, phone } = await setUp();
  server.fault = ({ path }) => (path.includes('feeds/firm/rows') ? 'lose-request' : 'none');
  for (let at = 0; at < FEEDS.length; at++) await syncOnce(phone);
  expect(await phone.all('well')).toHaveLength(2);
  expect(await phone.all('event')).toHaveLength(1);
});

it('does not spin on a page that promises more and gives nothing', async () => {
  const { server, phone } = await setUp();
  await syncOnce(phone);
  server.write('firm', 'crew', CREW, { name: 'Crew One' });
  server.bend = (said, { path }) => {
    if (!path.includes('feeds/firm/rows')) return said;
    const cursor = new URL(path, 'http://fake').searchParams.get('cursor');
    return { ...said, body: { ...said.body, rows: [], more: true, cursor } };
  };
  expect((await syncOnce(phone)).problem?.code).toBe('feed_stands_still');
});

it('keeps showing its own records while the server has answered and the row has not come', async () => {
  const { server, phone } = await setUp();
  await syncOnce(phone);
  const purge = await recordPurge(phone);
  const { id } = await recordReading(phone, purge, '7.10');
  expect(await phone.one(id)).toMatchObject({ standing: 'unsent', record: { rev: 0, fields: { ph: '7.10' } } });
  server.fault = ({ path }) => (path.includes('/rows') ? 'lose-request' : 'none');
  await syncOnce(phone);
  expect(await phone.one(id)).toMatchObject({ standing: 'sent', record: { fields: { ph: '7.10' } } });
  server.fault = () => 'none';
  await syncOnce(phone);
  expect(await phone.one(id)).toMatchObject({ standing: 'synced', laidOver: [], record: { rev: 1, by: MEMBER } });
});

it('keeps a durable line while a lagging copy of the feed does not tell of it', async () => {
  const { server, phone } = await setUp();
  const purge = await recordPurge(phone);
  await syncOnce(phone);
  const behind = server.snapshot().logs[EVENT_FEED]?.length;
  const before = tallyOf(liveOf(server.state, EVENT_FEED));
  const { id } = await recordReading(phone, purge, '7.10');
  server.bend = (said, { path }) => {
    if (!path.includes('feeds?')) return said;
    const feeds = (said.body.feeds as { feed: string }[]).map((listed) =>
      listed.feed === EVENT_FEED ? { ...listed, tail: behind, ...before } : listed,
    );
    return { ...said, body: { ...said.body, feeds } };
  };
  expect(await syncOnce(phone)).toMatchObject({ pushed: 1, problem: null });
  expect(await phone.one(id)).toMatchObject({ standing: 'sent', record: { fields: { ph: '7.10' } } });
  server.bend = (said) => said;
  await syncOnce(phone);
  expect(await phone.one(id)).toMatchObject({ standing: 'synced' });
  expect(await phone.context.store.outbox()).toEqual([]);
});

it('lays its own change over the row that tells of it already, until the answer that was lost is heard', async () => {
  const { server, phone } = await setUp();
  const purge = await recordPurge(phone);
  await syncOnce(phone);
  await phone.amend('purge', purge, { remark: 'mine' });
  server.fault = ({ method }) => (method === 'POST' ? 'lose-response' : 'none');
  await syncOnce(phone);
  expect(await phone.one(purge)).toMatchObject({ standing: 'unsent', record: { rev: 2, fields: { remark: 'mine' } } });
  expect(await phone.unsent('2026-05-04T12:00:00-05:00')).toMatchObject({ count: 1 });
  server.fault = () => 'none';
  expect(await syncOnce(phone)).toMatchObject({ pushed: 1, unsent: { count: 0 } });
  expect(await phone.one(purge)).toMatchObject({ standing: 'synced', record: { rev: 2 } });
});

it('shows amendments, cleared fields and voids at once', async () => {
  const { phone } = await setUp();
  const purge = await recordPurge(phone);
  await syncOnce(phone);
  await phone.amend('purge', purge, { ended: '2026-05-04T11:00:00-05:00', remark: 'clear' });
  await phone.amend('purge', purge, { remark: null });
  const { fields } = (await phone.one(purge))?.record ?? { fields: {} };
  expect(fields).toMatchObject({ ended: '2026-05-04T11:00:00-05:00' });
  expect('remark' in fields).toBe(false);
  await phone.voidRecord('purge', purge, 'wrong well');
  expect(await phone.one(purge)).toMatchObject({
    standing: 'unsent',
    record: { voided: { reason: 'wrong well', by: MEMBER } },
    laidOver: [3, 4, 5],
  });
});

it('lists a conflict for a person, from the answer to the push on, until it is resolved', async () => {
  const { server, clock, phone } = await setUp();
  const other = await openPhone({ server, clock, seed: 2 });
  const purge = await recordPurge(phone);
  await syncOnce(phone);
  await syncOnce(other);
  await other.amend('purge', purge, { remark: 'theirs' });
  await syncOnce(other);
  await phone.amend('purge', purge, { remark: 'mine' });
  server.fault = ({ path }) => (path.includes('/rows') ? 'gateway' : 'none');
  const report = await syncOnce(phone);
  expect(report.outcomes).toMatchObject([{ outcome: 'conflict_kept' }]);
  const [early] = await phone.conflicts();
  expect(early).toMatchObject({ record: null, own: [{ mutationId: 3 }] });
  server.fault = () => 'none';
  await syncOnce(phone);
  const [found] = await phone.conflicts();
  expect(found).toMatchObject({ id: early?.id, record: { fields: { field: 'remark', kept: [{ value: 'theirs' }] } } });
  await phone.resolve(found?.id ?? '', 'mine', 'asked them');
  expect(await phone.conflicts()).toEqual([]);
  await syncOnce(phone);
  expect(await phone.conflicts()).toEqual([]);
  expect((await phone.one(found?.id ?? ''))?.standing).toBe('synced');
});

it('still says that a conflict is to come where a cut pull has the change that led to it, and not its row', async () => {
  const { server, clock, phone } = await setUp();
  const other = await openPhone({ server, clock, seed: 2 });
  const purge = await recordPurge(phone);
  await syncOnce(phone);
  await syncOnce(other);
  await other.amend('purge', purge, { remark: 'theirs' });
  await syncOnce(other);
  for (let at = 0; at < phone.context.line.pageRows - 1; at++)
    server.write(EVENT_FEED, 'crew', uuid(0x10_000 + at), { name: `Crew ${at}` });
  await phone.amend('purge', purge, { remark: 'mine' });
  // the first asks whether the history is the one that is known
  let pages = 0;
  server.fault = ({ path }) => (path.includes(`${EVENT}/rows`) && ++pages > 2 ? 'gateway' : 'none');
  const [answer] = (await syncOnce(phone)).outcomes;
  const feed = (await phone.context.store.feeds()).find((one) => one.feed === EVENT_FEED);
  expect([feed?.seq, feed?.complete]).toEqual([answer?.seq, true]);
  expect(await phone.conflicts()).toMatchObject([{ id: answer?.conflicts?.[0], record: null }]);
  server.fault = () => 'none';
  await syncOnce(phone);
  expect(await phone.conflicts()).toMatchObject([{ record: { fields: { field: 'remark' } } }]);
});

it('lists wells under their ids, also those recorded here and not sent', async () => {
  const { phone } = await setUp();
  await syncOnce(phone);
  const mine = { site: SITE, name: 'N-9', standing: 'unknown', depthsFrom: 'ground' };
  const { id } = await phone.record('well', mine, { id: uuid(0xd9) });
  expect((await phone.all('well')).map(({ record }) => record.id)).toEqual([WELL, DEEP_WELL, id]);
  expect((await phone.all('event')).map(({ record }) => record.id)).toEqual([EVENT]);
});
