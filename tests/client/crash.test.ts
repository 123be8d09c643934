import { expect, it } from 'vitest';
import type { FieldClient } from '../../src/client/client.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import type { ClientStore } from '../../src/client/store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { recount, sameTally } from '../../src/client/tally.ts';
import { Crash, crashStore } from './fake/crash-store.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import type { FakeServer } from './fake/server.ts';
import { liveOf, type State, tallyOf } from './fake/state.ts';
import { CREW, EPOCH_2, EVENT, EVENT_FEED, firmServer, MEMBER, uuid, WELL } from './fake/world.ts';

const VISIT = uuid(0x301);
const PURGE = uuid(0x302);
const READINGS = [uuid(0x311), uuid(0x312), uuid(0x313)];

interface Scene {
  readonly server: FakeServer;
  copy: State | null;
  /** A row of this feed was taken away behind the back of the library. */
  damaged: string | null;
}

type Step = (phone: FieldClient, scene: Scene) => Promise<unknown>;

/** Records unless that is done already: what an app does that was cut off and is opened again. */
function once(kind: string, id: string, fields: () => Record<string, unknown>): Step {
  return async (phone) => {
    if (await phone.one(id)) return;
    const observed = kind === 'reading' ? { observed: await phone.observed() } : {};
    await phone.record(kind, { ...fields(), ...observed }, { id });
  };
}

function amendOnce(kind: string, id: string, set: Record<string, string>): Step {
  return async (phone) => {
    const [[field = '', value] = []] = Object.entries(set);
    if ((await phone.one(id))?.record.fields[field] === value) return;
    await phone.amend(kind, id, set, { reason: 'misread' });
  };
}

const sync: Step = (phone) => syncOnce(phone);

function faulty(fault: 'lose-response' | 'cut-response'): Step {
  return async (phone, { server }) => {
    server.fault = ({ method }) => (method === 'POST' ? fault : 'none');
    await syncOnce(phone).finally(() => {
      server.fault = () => 'none';
    });
  };
}

const reading = (at: number) => once('reading', READINGS[at] ?? '', () => ({ purge: PURGE, ph: `7.${at}` }));

/** A day with everything in it that makes the library write: capture, push, pull, renumbering, set-back, repair. */
const DAY: readonly Step[] = [
  (phone) => phone.setPerson(MEMBER),
  sync,
  once('visit', VISIT, () => ({
    event: EVENT,
    well: WELL,
    crew: CREW,
    method: 'low-flow',
    arrived: '2026-05-04T10:00:00-05:00',
  })),
  once('purge', PURGE, () => ({ visit: VISIT, began: '2026-05-04T10:05:00-05:00' })),
  reading(0),
  faulty('lose-response'),
  amendOnce('reading', READINGS[0] ?? '', { ph: '7.05' }),
  async (_phone, { server }) => server.write(EVENT_FEED, 'event', EVENT, { name: 'Spring round, day 1' }),
  sync,
  async (_phone, scene) => {
    scene.copy ??= scene.server.snapshot();
  },
  reading(1),
  amendOnce('purge', PURGE, { remark: 'clear' }),
  sync,
  async (_phone, scene) => {
    if (scene.copy) scene.server.restore(scene.copy, EPOCH_2);
  },
  sync,
  async (phone, scene) => {
    scene.damaged = 'firm';
    const [stored] = (await phone.context.store.recordsOfFeed('firm')).slice(-1);
    if (stored) await phone.context.store.commit([{ drop: 'record', feed: 'firm', id: stored.record.id }]);
  },
  sync,
  sync,
  async (phone, { server }) => {
    // A twin has said something else under the next number.
    const { client, nextMutation } = await phone.identity();
    const receipts = server.state.receipts[client];
    if (!receipts || receipts.lines.length >= nextMutation) return;
    receipts.lines.push('twin');
    receipts.outcomes.push({ mutationId: receipts.lines.length, outcome: 'refused' });
    receipts.seen.push(0);
  },
  reading(2),
  amendOnce('reading', READINGS[2] ?? '', { ph: '7.25' }),
  sync,
  async (_phone, { server }) => {
    server.feeds = () => ['firm', EVENT_FEED];
  },
  sync,
];

/** Lives through the day; where the device dies, it is started again and goes on with the step that was cut off. */
async function liveThrough(scene: Scene, inner: ClientStore, at: number, when: 'before' | 'after') {
  const { server } = scene;
  const store = crashStore(inner, at, when);
  const clock = new SimClock();
  const open = (kept: ClientStore, seed: number) => openPhone({ server, clock, seed, store: kept, token: 'token' });
  let phone: FieldClient | null = null;
  let crashes = 0;
  for (const step of DAY) {
    for (;;) {
      try {
        phone ??= await open(crashes === 0 ? store : inner, crashes + 1);
        await step(phone, scene);
        break;
      } catch (error) {
        if (!(error instanceof Crash)) throw error;
        crashes += 1;
        phone = await open(inner, crashes + 1);
        expect(await isExplicit(phone, scene)).toBe(true);
      }
    }
  }
  return { phone: phone ?? (await open(inner, 9)), crashes, begun: store.begun };
}

/** What is noted of every feed fits what is stored: data that is right as far as it goes, or nothing at all. */
async function isExplicit({ context }: FieldClient, { damaged }: Scene): Promise<boolean> {
  for (const state of await context.store.feeds()) {
    const tally = recount(await context.store.recordsOfFeed(state.feed));
    if (state.feed !== damaged && !sameTally(tally, state)) return false;
  }
  return true;
}

async function checkEnd(phone: FieldClient, { server }: Scene): Promise<void> {
  const report = await syncOnce(phone);
  expect(report).toMatchObject({ unsent: { count: 0 }, problem: null, differing: [] });
  await syncOnce(phone);
  for (const feed of server.feeds('token')) {
    const stored = recount(await phone.context.store.recordsOfFeed(feed));
    expect([feed, stored]).toEqual([feed, tallyOf(liveOf(server.state, feed))]);
  }
  const readings = liveOf(server.state, EVENT_FEED).filter(({ kind }) => kind === 'reading');
  expect(readings.map(({ id, fields }) => [id, fields.ph]).sort()).toEqual([
    [READINGS[0], '7.05'],
    [READINGS[1], '7.1'],
    [READINGS[2], '7.25'],
  ]);
  expect(server.state.records[PURGE]?.record.fields.remark).toBe('clear');
  expect(await phone.conflicts()).toEqual([]);
  expect(await phone.troubles()).toEqual([]);
}

it.each(['before', 'after'] as const)('loses nothing when the device dies %s any one of its commits', async (when) => {
  const whole: Scene = { server: firmServer(), copy: null, damaged: null };
  whole.server.durable = () => 0;
  const { phone, begun } = await liveThrough(whole, memoryStore(), Number.POSITIVE_INFINITY, when);
  await checkEnd(phone, whole);
  expect(begun).toBeGreaterThan(30);
  for (let at = 1; at <= begun; at++) {
    const scene: Scene = { server: firmServer(), copy: null, damaged: null };
    scene.server.durable = () => 0;
    const lived = await liveThrough(scene, memoryStore(), at, when);
    expect(lived.crashes).toBe(1);
    await checkEnd(lived.phone, scene);
  }
});
