import { expect, it } from 'vitest';
import { criteriaSets } from '../../src/catalog/criteria-sets.ts';
import type { FieldClient } from '../../src/client/client.ts';
import { takeNewIdentity } from '../../src/client/new-identity.ts';
import { copyBytes } from '../../src/client/outbox-copy.ts';
import { previewVisit } from '../../src/client/preview/preview.ts';
import { sendBatch } from '../../src/client/send-batch.ts';
import type { CarriedEntry, Change, OutboxEntry } from '../../src/client/store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import type { PushHeader } from '../../src/protocol/sync.ts';
import { SCHEMA_VERSION } from '../../src/protocol/version.ts';
import type { Said } from './fake/answer.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import type { FakeServer } from './fake/server.ts';
import { EVENT, EVENT_FEED, firmServer, MEMBER, recordReading, recordVisit, uuid } from './fake/world.ts';

async function phoneWithReadings(count: number) {
  const server = firmServer();
  const clock = new SimClock();
  const phone = await openPhone({ server, clock, seed: 1, token: 'one' });
  await phone.setPerson(MEMBER);
  await syncOnce(phone);
  const visit = await recordVisit(phone);
  const purge = (await phone.record('purge', { visit, began: '2026-05-04T10:05:00-05:00' })).id;
  for (let at = 0; at < count; at++) await recordReading(phone, purge, `7.${at}`);
  return { server, clock, phone, visit, purge };
}

/** As if an older app had captured the first ones: before versions were noted, or under this one. */
async function capturedBy(phone: FieldClient, first: number, schemaVersion?: number): Promise<void> {
  const { store } = phone.context;
  const older = (await store.outbox()).filter(({ mutationId }) => mutationId <= first);
  const changes = older.map(({ schemaVersion: _, ...entry }): Change => {
    const before: OutboxEntry = schemaVersion === undefined ? entry : { ...entry, schemaVersion };
    return { put: 'entry', entry: before };
  });
  await store.commit(changes);
}

/** Of each push: the version that its header names, the number that it begins with, and how many lines it has. */
function pushes(server: FakeServer): [version: number, first: number, count: number][] {
  const bodies = server.asked.filter(({ method }) => method === 'POST').map(({ body }) => body);
  return bodies.map((body) => {
    const { schemaVersion, first, count } = JSON.parse(body.split('\n')[0] ?? '') as PushHeader;
    expect(body.trimEnd().split('\n')).toHaveLength(count + 1);
    return [schemaVersion, first, count];
  });
}

it('[V4] captures under the version of the app', async () => {
  const { phone, server } = await phoneWithReadings(1);
  const entries = await phone.context.store.outbox();
  expect(entries.map(({ schemaVersion }) => schemaVersion)).toEqual(Array(3).fill(SCHEMA_VERSION));
  await syncOnce(phone);
  expect(pushes(server)).toEqual([[SCHEMA_VERSION, 1, 3]]);
});

it.each([undefined, 1])(
  '[V4] pushes what an older app captured (%s) under its version, in a push of its own',
  async (older) => {
    const { phone, server } = await phoneWithReadings(3);
    await capturedBy(phone, 3, older);
    const report = await syncOnce(phone);
    expect(report).toMatchObject({ pushed: 5, problem: null, unsent: { count: 0 } });
    expect(pushes(server)).toEqual([
      [1, 1, 3],
      [SCHEMA_VERSION, 4, 2],
    ]);
  },
);

it('[V4] says the same version of a line after a lost answer, a new client id and in the copy on another phone', async () => {
  const { phone, server, clock } = await phoneWithReadings(2);
  await capturedBy(phone, 3);
  server.fault = ({ method }) => (method === 'POST' ? 'lose-request' : 'none');
  await syncOnce(phone);
  const two = await openPhone({ server, clock, seed: 2, token: 'two' });
  await two.importOutbox(await phone.exportOutbox());
  await takeNewIdentity(phone.context);
  server.fault = () => 'none';
  server.asked.length = 0;
  await syncOnce(phone);
  await syncOnce(two);
  const ofEachLine = pushes(server).flatMap(([version, , count]) => Array<number>(count).fill(version));
  expect(ofEachLine).toEqual([1, 1, 1, SCHEMA_VERSION, 1, 1, 1, SCHEMA_VERSION]);
});

it('[V4] takes a copy that was made by an app which noted no versions', async () => {
  const { phone, server, clock } = await phoneWithReadings(0);
  const lines = (await phone.context.store.outbox()).map(({ client, mutationId, captured, line }) => {
    return { client, mutationId, captured, line };
  });
  const two = await openPhone({ server, clock, seed: 2, token: 'two' });
  expect(await two.importOutbox(copyBytes(clock.wall(), lines))).toEqual({ taken: 2, known: 0 });
  const carried: readonly CarriedEntry[] = await two.context.store.carried();
  expect(carried.map(({ schemaVersion }) => schemaVersion)).toEqual([1, 1]);
  await syncOnce(two);
  expect(pushes(server)).toEqual([[1, 1, 2]]);
});

it.each([
  [SCHEMA_VERSION + 1, 'newer'],
  [SCHEMA_VERSION, 'same'],
  [SCHEMA_VERSION - 1, 'older'],
] as const)('[V8] says of a server of version %i that it is %s', async (schemaVersion, is) => {
  const { phone, server } = await phoneWithReadings(0);
  server.bend = (said, { path }) =>
    path.includes('feeds?') ? { ...said, body: { ...said.body, schemaVersion } } : said;
  expect((await syncOnce(phone)).serverVersion).toBe(is);
});

it('[V8] says nothing of the version of a server that it has not reached', async () => {
  const server = firmServer();
  const phone = await openPhone({ server, clock: new SimClock(), seed: 1 });
  server.fault = () => 'lose-request';
  expect((await syncOnce(phone)).serverVersion).toBeNull();
});

const DRONE = uuid(0x9d1);
const FLAG = uuid(0x9d2);

/** What a newer server adds to every answer. */
function newer(said: Said): Said {
  const { rows, feeds, outcomes, ...body } = said.body as Record<string, unknown[]>;
  const more = (list: unknown[] | undefined) => list?.map((one) => ({ ...(one as object), later: { than: 'this' } }));
  const lists = Object.entries({ rows: more(rows), feeds: more(feeds), outcomes: more(outcomes) });
  return { ...said, body: { ...body, ...Object.fromEntries(lists.filter(([, list]) => list)), later: [1] } };
}

it('[V8] pulls, shows, edits and previews beside kinds, fields, codes and outcomes that it has never heard of', async () => {
  const { phone, server, visit, purge } = await phoneWithReadings(2);
  server.bend = newer;
  await syncOnce(phone);
  server.write(EVENT_FEED, 'drone-flight', DRONE, { visit, purge, path: { points: [[1, 2]] } });
  const flag = { rule: 'unheard-of', code: 'unheard-of', severity: 'perhaps', standing: 'raised', visit, of: { a: 1 } };
  server.write(EVENT_FEED, 'flag', FLAG, flag);
  const [reading] = await phone.all('reading');
  if (!reading) throw new Error('no reading came');
  const { fields } = reading.record;
  server.write(EVENT_FEED, 'reading', reading.record.id, { ...fields, clarity: { of: 'water', steps: [1, null] } });
  const report = await syncOnce(phone);
  expect(report).toMatchObject({ problem: null, differing: [], repaired: [], resets: [], serverVersion: 'same' });
  expect((await phone.one(DRONE))?.record.fields).toMatchObject({ path: { points: [[1, 2]] } });
  expect((await phone.all('drone-flight')).map(({ record }) => record.id)).toEqual([DRONE]);
  expect((await phone.one(FLAG))?.record.fields).toEqual(flag);
  await phone.amend('reading', reading.record.id, { ph: '7.5' }, { reason: 'mistyped' });
  const shown = (await phone.one(reading.record.id))?.record.fields;
  expect(shown).toMatchObject({ ph: '7.5', clarity: { of: 'water', steps: [1, null] } });
  expect(await phone.conflicts()).toEqual([]);
  expect(await previewVisit(phone, visit)).not.toBeNull();
  expect(await syncOnce(phone)).toMatchObject({ pushed: 1, problem: null, differing: [], unsent: { count: 0 } });
});

it('[V8] changes no part of a plan that a newer app has filled in, and everything else of its record', async () => {
  const { phone, server } = await phoneWithReadings(0);
  const { plan, ...fields } = ((await phone.one(EVENT))?.record.fields ?? {}) as Record<string, object>;
  const criteria = criteriaSets[0]?.id;
  server.write(EVENT_FEED, 'event', EVENT, {
    ...fields,
    plan: { ...plan, criteria, weather: { wind: true } },
    later: 1,
  });
  await syncOnce(phone);
  const amend = phone.amend('event', EVENT, { plan: { criteria } });
  await expect(amend).rejects.toMatchObject({ code: 'newer_value', pointers: ['/plan/weather'] });
  await phone.amend('event', EVENT, { name: 'Spring, second half' });
  const shown = (await phone.one(EVENT))?.record.fields;
  expect(shown).toMatchObject({ name: 'Spring, second half', plan: { weather: { wind: true } }, later: 1 });
  server.write(EVENT_FEED, 'event', EVENT, { ...fields, plan: { criteria } });
  await syncOnce(phone);
  await phone.amend('event', EVENT, { plan: { criteria, stabilization: { graceS: 10 } } });
});

it('[V8] takes an outcome that it has never heard of for an answer, and goes on', async () => {
  const { phone, server } = await phoneWithReadings(1);
  server.bend = (said) => {
    const { outcomes } = said.body as { outcomes?: readonly object[] };
    return outcomes
      ? { ...said, body: { ...said.body, outcomes: outcomes.map((one) => ({ ...one, outcome: 'postponed' })) } }
      : said;
  };
  expect(await syncOnce(phone)).toMatchObject({ pushed: 3, problem: null, unsent: { count: 0 } });
  expect(await phone.troubles()).toEqual([]);
});

it('[P3] [V8] a preview says that the plan has options which this app does not know', async () => {
  const { server, phone, visit } = await phoneWithReadings(1);
  const criteria = criteriaSets[0]?.id ?? '';
  const cautionsWith = async (plan: object) => {
    server.write(EVENT_FEED, 'event', EVENT, { site: uuid(0xc1), name: 'Spring round', plan });
    await syncOnce(phone);
    return (await previewVisit(phone, visit)).cautions;
  };
  const before = await cautionsWith({ criteria, stabilization: { graceS: 30 } });
  expect(before.join()).not.toContain('does not know');
  const cautions = await cautionsWith({ criteria, stabilization: { graceS: 30, smoothing: 'median' } });
  const more = cautions.filter((caution) => !before.includes(caution));
  expect(more).toEqual([expect.stringContaining('does not know (/stabilization/smoothing)')]);
});

it('[V4] [B9] says which histories its lines cite only to a server, or in a version, that knows of it', async () => {
  const server = firmServer();
  const phone = await openPhone({ server, clock: new SimClock(), seed: 7 });
  const header = async (schemaVersion: number, serverVersion: number | null) => {
    phone.context.line.serverVersion = serverVersion;
    await sendBatch(phone.context, { first: 1, schemaVersion, entries: [], seen: ['["cursor","firm",0,""]'] });
    const [first = ''] = server.asked.at(-1)?.body.split('\n') ?? [];
    return JSON.parse(first) as PushHeader;
  };
  expect((await header(2, 2)).seen).toBeUndefined();
  expect((await header(2, null)).seen).toBeUndefined();
  expect((await header(2, 3)).seen).toHaveLength(1);
  expect((await header(3, null)).seen).toHaveLength(1);
});
