import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { FieldClient } from '../../src/client/client.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import type { ClientStore } from '../../src/client/store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { recount } from '../../src/client/tally.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import type { FakeServer, Fault } from './fake/server.ts';
import { liveOf, type State, tallyOf } from './fake/state.ts';
import { CREW, EVENT, EVENT_FEED, FEEDS, firmServer, MEMBER, uuid, WELL } from './fake/world.ts';

const PHONES = 3;
const VISIT = uuid(0x301);
const PURGE = uuid(0x302);
const FAULTS: readonly Fault[] = [
  'lose-request',
  'lose-response',
  'cut-request',
  'cut-response',
  'twice',
  'busy',
  'portal',
  'gateway',
];

const phone = fc.nat(PHONES - 1);
const faults = fc.array(fc.constantFrom<Fault>('none', ...FAULTS), { maxLength: 8 });
const action = fc.oneof(
  fc.record({ do: fc.constant('read' as const), phone }),
  fc.record({ do: fc.constant('remark' as const), phone }),
  fc.record({ do: fc.constant('sync' as const), phone, faults }),
  fc.record({ do: fc.constant('reopen' as const), phone }),
);
const setBack = fc.record({ do: fc.constantFrom('copy' as const, 'restore' as const, 'restore-announced' as const) });
const twin = fc.record({ do: fc.constant('twin' as const), phone, of: phone });
type Action =
  | (typeof action extends fc.Arbitrary<infer Value> ? Value : never)
  | (typeof setBack extends fc.Arbitrary<infer Value> ? Value : never)
  | (typeof twin extends fc.Arbitrary<infer Value> ? Value : never);

async function copyInto(from: ClientStore, to: ClientStore): Promise<void> {
  const identity = await from.identity();
  if (identity) await to.commit([{ put: 'identity', identity }]);
  for (const entry of await from.outbox()) await to.commit([{ put: 'entry', entry }]);
  for (const state of await from.feeds()) {
    const records = await from.recordsOfFeed(state.feed);
    await to.commit([...records.map((stored) => ({ put: 'record' as const, stored })), { put: 'feed', state }]);
  }
}

/** Phones of one event, and what was captured on them. */
class Round {
  readonly server: FakeServer;
  readonly clock = new SimClock();
  readonly stores: ClientStore[] = [];
  readonly phones: FieldClient[] = [];
  readonly readings = new Map<string, string>();
  /** Every remark, with the one that was on the screen when it was written. */
  readonly remarks: { readonly value: string; readonly over: unknown }[] = [];
  copy: State;
  #seed = 0;

  constructor(server: FakeServer) {
    this.server = server;
    this.copy = server.snapshot();
  }

  async open(at: number, store: ClientStore): Promise<void> {
    this.#seed += 1;
    this.stores[at] = store;
    this.phones[at] = await openPhone({ ...this, seed: this.#seed, token: `token-${at}`, store });
    await this.phones[at]?.setPerson(MEMBER);
  }

  async act(step: Action): Promise<void> {
    this.clock.pass(60_000);
    const current = 'phone' in step ? this.phones[step.phone] : undefined;
    const store = 'phone' in step ? this.stores[step.phone] : undefined;
    if (step.do === 'copy') this.copy = this.server.snapshot();
    if (step.do === 'restore') this.server.restore(this.copy);
    if (step.do === 'restore-announced') this.server.restore(this.copy, uuid(0xe000 + this.clock.nowMs));
    if (!current || !store) return;
    if (step.do === 'read') await this.read(current);
    if (step.do === 'remark') await this.remark(current);
    if (step.do === 'reopen') await this.open(step.phone, store);
    if (step.do === 'twin') await this.twin(step.phone, step.of);
    if (step.do === 'sync') await this.sync(current, step.faults);
  }

  async read(current: FieldClient): Promise<void> {
    const ph = `7.${String(this.readings.size).padStart(3, '0')}`;
    const { id } = await current.record('reading', { purge: PURGE, ph, observed: await current.observed() });
    this.readings.set(id, ph);
  }

  async remark(current: FieldClient): Promise<void> {
    const value = `remark ${this.remarks.length}`;
    const over = (await current.one(PURGE))?.record.fields.remark;
    try {
      await current.amend('purge', PURGE, { remark: value });
      this.remarks.push({ value, over });
    } catch (error) {
      // The feed was just cleared, so there is nothing to amend: nothing was captured either.
      expect(error).toMatchObject({ code: 'record_not_here' });
    }
  }

  /** A second device begins to run on a copy of the first one's data; its own is left behind, all pushed. */
  async twin(at: number, of: number): Promise<void> {
    const [own, source] = [this.phones[at], this.stores[of]];
    if (at === of || !own || !source) return;
    await this.sync(own, []);
    const copy = memoryStore();
    await copyInto(source, copy);
    await this.open(at, copy);
  }

  async sync(current: FieldClient, planned: readonly Fault[]): Promise<void> {
    const left = [...planned];
    this.server.fault = () => left.shift() ?? 'none';
    await syncOnce(current);
    this.server.fault = () => 'none';
  }

  /** After every fault has healed, a few syncs each must bring everybody together, with no new writes to nudge them. */
  async heal(): Promise<void> {
    for (let turn = 0; turn < 5; turn++) for (const one of this.phones) await this.sync(one, []);
    for (const one of this.phones) {
      expect(await syncOnce(one)).toMatchObject({
        problem: null,
        unsent: { count: 0 },
        pushed: 0,
        pulled: 0,
        resets: [],
        differing: [],
      });
    }
  }

  async checkAgreement(): Promise<void> {
    for (const one of this.phones) {
      for (const feed of FEEDS) {
        const stored = recount(await one.context.store.recordsOfFeed(feed));
        expect([feed, stored]).toEqual([feed, tallyOf(liveOf(this.server.state, feed))]);
      }
      expect(await one.troubles()).toEqual([]);
      for (const view of await one.all('reading')) expect(view.standing).toBe('synced');
    }
  }

  checkNothingLost(): void {
    const held = liveOf(this.server.state, EVENT_FEED);
    const readings = held.filter(({ kind }) => kind === 'reading').map(({ id, fields }) => [id, fields.ph]);
    expect(readings.sort()).toEqual([...this.readings].sort());
    const kept = held
      .filter(({ kind }) => kind === 'conflict')
      .flatMap(({ fields }) => fields.kept as { value: unknown }[]);
    const remark = held.find(({ id }) => id === PURGE)?.fields.remark;
    const overwritten = this.remarks.map(({ over }) => over);
    const found = new Set([remark, ...overwritten, ...kept.map(({ value }) => value)]);
    expect(this.remarks.filter(({ value }) => !found.has(value))).toEqual([]);
  }
}

async function begin(): Promise<Round> {
  const server = firmServer();
  server.durable = () => 0;
  const visit = { event: EVENT, well: WELL, crew: CREW, method: 'low-flow', arrived: '2026-05-04T10:00:00-05:00' };
  server.write(EVENT_FEED, 'visit', VISIT, visit);
  server.write(EVENT_FEED, 'purge', PURGE, { visit: VISIT, began: '2026-05-04T10:05:00-05:00' });
  const round = new Round(server);
  for (let at = 0; at < PHONES; at++) {
    await round.open(at, memoryStore());
    const opened = round.phones[at];
    if (opened) await round.sync(opened, []);
  }
  round.copy = server.snapshot();
  return round;
}

async function live(actions: readonly Action[]): Promise<void> {
  const round = await begin();
  for (const step of actions) await round.act(step);
  await round.heal();
  await round.checkAgreement();
  round.checkNothingLost();
}

const RUNS = process.env.LONG === '1' ? 3_000 : 120;

it('loses nothing and ends in agreement, whatever the line and the server do: faults, restarts, set-backs', async () => {
  const actions = fc.array(fc.oneof({ weight: 8, arbitrary: action }, { weight: 1, arbitrary: setBack }), {
    minLength: 5,
    maxLength: 40,
  });
  await fc.assert(fc.asyncProperty(actions, live), { numRuns: RUNS });
}, 600_000);

it('loses nothing and ends in agreement, also when devices run on copies of each other', async () => {
  const actions = fc.array(fc.oneof({ weight: 8, arbitrary: action }, { weight: 1, arbitrary: twin }), {
    minLength: 5,
    maxLength: 40,
  });
  await fc.assert(fc.asyncProperty(actions, live), { numRuns: RUNS });
}, 600_000);
