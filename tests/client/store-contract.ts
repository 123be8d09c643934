import { v7 } from 'uuid';
import { afterEach, expect, it } from 'vitest';
import { mutationKey } from '../../src/client/contents.ts';
import type { Recovered } from '../../src/client/salvage.ts';
import type { Change, ClientStore, StoredRecord } from '../../src/client/store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { recount, sameTally } from '../../src/client/tally.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import type { FakeServer } from './fake/server.ts';
import { CREW, EVENT, firmServer, MEMBER, WELL } from './fake/world.ts';
import { CLIENT, captured, carried, entry, FEED, feedState, identity, page, storedRecord } from './store-fixtures.ts';

/** One place that a store is kept in: a folder, a database, a piece of memory. */
export interface Place {
  open(): Promise<ClientStore>;
  /** As when its app is closed. */
  close(store: ClientStore): Promise<void>;
  remove(): Promise<void>;
}

/** A place on a medium, which gets full and is damaged. */
export interface Medium extends Place {
  /** Changes stored bytes behind the back of the store; gives the outbox lines that nobody can read any more. */
  damage(): Promise<readonly number[]>;
  recover(): Promise<Recovered>;
  /** Makes every commit fail in its middle, as if the medium were full, until it is called again with false. */
  full(isFull: boolean): void;
}

function ids(records: readonly StoredRecord[]): string[] {
  return records.map(({ record }) => record.id).sort();
}

function numbers(entries: readonly { readonly mutationId: number }[]): number[] {
  return entries.map(({ mutationId }) => mutationId).sort((a, b) => a - b);
}

type Using<Where extends Place> = (use: (place: Where) => Promise<void>) => Promise<void>;

function storesAndAnswers(using: Using<Place>): void {
  it('answers each question with what was stored, and drops what is dropped', () =>
    using(async (place) => {
      const store = await place.open();
      await store.commit([
        ...page(1, 8),
        ...page(5, 6, 'site:two'),
        ...captured(1),
        { put: 'carried', carried: carried(4) },
      ]);
      expect(ids(await store.recordsOfFeed(FEED))).toHaveLength(8);
      expect((await store.recordsOfFeed(FEED)).find(({ seq }) => seq === 3)).toEqual(storedRecord(3));
      expect(ids(await store.recordsOfKind('purge'))).toEqual([storedRecord(4).record.id, storedRecord(8).record.id]);
      expect((await store.copies(storedRecord(5).record.id)).map(({ feed }) => feed).sort()).toEqual([
        FEED,
        'site:two',
      ]);
      const wanted = [storedRecord(8).record.id, v7(), storedRecord(2).record.id];
      expect((await store.held(FEED, wanted)).map(({ seq }) => seq).sort()).toEqual([2, 8]);
      expect(await store.carried()).toMatchObject([{ mutationId: 4 }]);
      const { client } = carried(4);
      await store.commit([
        { drop: 'record', feed: FEED, id: storedRecord(3).record.id },
        { drop: 'entry', client: CLIENT, mutationId: 1 },
        { drop: 'carried', client, mutationId: 4 },
        { drop: 'entry', client: CLIENT, mutationId: 99 },
      ]);
      expect(ids(await store.recordsOfFeed(FEED))).toHaveLength(7);
      expect([await store.outbox(), await store.carried()]).toEqual([[], []]);
      await store.commit([{ drop: 'feed', feed: FEED }]);
      expect([await store.recordsOfFeed(FEED), (await store.feeds()).map(({ feed }) => feed)]).toEqual([
        [],
        ['site:two'],
      ]);
      expect(await store.recordsOfFeed('site:two')).toHaveLength(2);
    }));

  it('carries out the changes of a commit in the order given', () =>
    using(async (place) => {
      const store = await place.open();
      await store.commit(page(1, 3));
      const again = storedRecord(2, FEED, 7);
      await store.commit([
        { drop: 'feed', feed: FEED },
        { put: 'record', stored: storedRecord(2) },
        { put: 'record', stored: again },
        { put: 'feed', state: feedState(9) },
      ]);
      expect(await store.recordsOfFeed(FEED)).toEqual([again]);
      expect(await store.feeds()).toEqual([feedState(9)]);
    }));

  it('is the same after it was closed and opened again, and has nothing at first', () =>
    using(async (place) => {
      const store = await place.open();
      expect([await store.identity(), await store.outbox(), await store.feeds()]).toEqual([null, [], []]);
      const lines = [entry(1), { ...entry(2), outcome: { mutationId: 2, outcome: 'applied' as const } }];
      await store.commit([...lines.map((one): Change => ({ put: 'entry', entry: one })), ...page(1, 3)]);
      await store.commit([{ put: 'identity', identity: { ...identity(3), person: v7(), durable: 1 } }]);
      const before = [await store.identity(), await store.recordsOfFeed(FEED), await store.feeds()];
      await place.close(store);
      const again = await place.open();
      expect([await again.identity(), await again.recordsOfFeed(FEED), await again.feeds()]).toEqual(before);
      expect((await again.outbox()).toSorted((a, b) => a.mutationId - b.mutationId)).toEqual(lines);
    }));
}

function keepsCommitsWhole(using: Using<Place>): void {
  it('shows a commit whole or not at all to whoever reads while it is written', () =>
    using(async (place) => {
      const store = await place.open();
      for (let round = 0; round < 10; round++) {
        const from = round * 200 + 1;
        const writing = store.commit([...page(from, from + 199), ...captured(round + 1)]);
        const asked = await Promise.all([store.recordsOfFeed(FEED), store.outbox(), store.identity()]);
        await writing;
        expect([from - 1, from + 199]).toContain(asked[0].length);
        expect([round, round + 1]).toContain(asked[1].length);
        expect(await store.recordsOfFeed(FEED)).toHaveLength(from + 199);
      }
    }));

  it('gives lists that no later commit changes, and keeps nothing of what its caller changes later', () =>
    using(async (place) => {
      const store = await place.open();
      await store.commit(page(1, 2));
      const before = await store.recordsOfFeed(FEED);
      const changes = page(3, 4);
      const writing = store.commit(changes);
      changes.length = 0;
      await writing;
      expect(before).toHaveLength(2);
      expect(await store.recordsOfFeed(FEED)).toHaveLength(4);
    }));

  it('takes many commits at once, one after the other', () =>
    using(async (place) => {
      const store = await place.open();
      await Promise.all(Array.from({ length: 60 }, (_, at) => store.commit(captured(at + 1))));
      await place.close(store);
      const again = await place.open();
      expect(numbers(await again.outbox())).toEqual(Array.from({ length: 60 }, (_, at) => at + 1));
      expect((await again.identity())?.nextMutation).toBe(61);
    }));
}

/** What a phone at this store is asked to do; `seed` makes its ids. */
function phoneAt(server: FakeServer, store: ClientStore, seed: number) {
  return openPhone({ server, clock: new SimClock(), seed, store, token: 'token' });
}

const VISIT = { event: EVENT, well: WELL, crew: CREW, method: 'low-flow', arrived: '2026-05-04T10:00:00-05:00' };

function servesAClient(using: Using<Place>): void {
  it('lets two openers of one store take no number twice, or refuses one of them', () =>
    using(async (place) => {
      const server = firmServer();
      const first = await place.open();
      const one = await phoneAt(server, first, 1);
      await one.record('visit', VISIT);
      const second = await place.open().catch((error: unknown) => error);
      const phones = [one];
      if (second instanceof Error) expect(second).toMatchObject({ name: 'StoreError', code: 'store_in_use' });
      else phones.push(await phoneAt(server, second as ClientStore, 2));
      const tries = Array.from({ length: 20 }, (_, at) => phones[at % phones.length]?.record('visit', VISIT));
      const told = (await Promise.allSettled(tries)).flatMap((done) =>
        done.status === 'fulfilled' ? [done.value?.id] : [],
      );
      const store = phones.length > 1 ? (second as ClientStore) : first;
      const kept = (await store.outbox()).map(({ id }) => id);
      expect(told.filter((id) => !kept.includes(id ?? ''))).toEqual([]);
      expect(new Set((await store.outbox()).map(mutationKey)).size).toBe(told.length + 1);
    }));

  it('keeps what the server has answered until the server says that it is safe there, over restarts', () =>
    using(async (place) => {
      const server = firmServer();
      server.durable = () => 0;
      const store = await place.open();
      const phone = await phoneAt(server, store, 1);
      await phone.setPerson(MEMBER);
      for (let at = 0; at < 3; at++) await phone.record('visit', VISIT);
      expect(await syncOnce(phone)).toMatchObject({ pushed: 3, unsent: { count: 0 } });
      await syncOnce(phone);
      await place.close(store);
      const again = await place.open();
      expect(numbers(await again.outbox())).toEqual([1, 2, 3]);
      const phoneAgain = await phoneAt(server, again, 2);
      server.durable = () => 2;
      await syncOnce(phoneAgain);
      await syncOnce(phoneAgain);
      expect(numbers(await again.outbox())).toEqual([3]);
    }));

  it('a reset forgets the feeds and keeps the outbox; the next sync brings the feeds again', () =>
    using(async (place) => {
      const server = firmServer();
      const store = await place.open();
      const phone = await phoneAt(server, store, 1);
      await phone.setPerson(MEMBER);
      await syncOnce(phone);
      expect((await store.feeds()).length).toBeGreaterThan(0);
      const { id } = await phone.record('visit', VISIT);
      const before = await phone.identity();
      await phone.resetFeeds();
      expect([await store.feeds(), await store.recordsOfFeed('firm')]).toEqual([[], []]);
      expect([(await store.outbox()).map((one) => one.id), await phone.identity()]).toEqual([[id], before]);
      expect(await syncOnce(phone)).toMatchObject({ pushed: 1, problem: null, differing: [] });
      expect((await phone.one(id))?.standing).toBe('synced');
    }));
}

function survivesItsMedium(using: Using<Medium>): void {
  it('never stores part of a commit that fails, and goes on afterwards', () =>
    using(async (place) => {
      const store = await place.open();
      await store.commit([...page(1, 2), ...captured(1)]);
      place.full(true);
      await expect(store.commit([...page(3, 400), ...captured(2)])).rejects.toMatchObject({ name: 'StoreError' });
      place.full(false);
      const check = async (now: ClientStore) => {
        expect(await now.recordsOfFeed(FEED)).toHaveLength(2);
        expect([numbers(await now.outbox()), (await now.identity())?.nextMutation]).toEqual([[1], 2]);
        expect(await now.feeds()).toEqual([feedState(2)]);
      };
      await check(store);
      await place.close(store);
      const again = await place.open();
      await check(again);
      await again.commit(captured(2));
      expect(numbers(await again.outbox())).toEqual([1, 2]);
    }));

  it('says clearly that what it holds was damaged, and gives back the outbox', () =>
    using(async (place) => {
      const store = await place.open();
      for (let at = 1; at <= 9; at++) await store.commit(captured(at));
      await store.commit(page(1, 50));
      await place.close(store);
      const lost = await place.damage();
      const asked = place.open().then(async (opened) => {
        await Promise.all([opened.identity(), opened.outbox(), opened.feeds(), opened.recordsOfFeed(FEED)]).finally(
          () => place.close(opened),
        );
      });
      await expect(asked).rejects.toMatchObject({ code: 'store_damaged', message: expect.stringContaining('ecover') });
      const left = [1, 2, 3, 4, 5, 6, 7, 8, 9].filter((number) => !lost.includes(number));
      const found = await place.recover();
      expect(found.unreadable).toBeGreaterThan(0);
      const again = await place.open();
      expect(numbers(await again.outbox())).toEqual(left);
      expect(await again.identity()).toMatchObject({ client: CLIENT, nextMutation: 10 });
      expect(found).toMatchObject({ kept: left.length, unsent: left.length });
      expect(await again.feeds()).toEqual([]);
    }));
}

function holdsMuch(using: Using<Place>): void {
  it(
    'holds 20,000 rows, and finds a few of them without delay',
    () =>
      using(async (place) => {
        const store = await place.open();
        for (let from = 1; from <= 20_000; from += 1_000) await store.commit(page(from, from + 999));
        await place.close(store);
        const again = await place.open();
        const records = await again.recordsOfFeed(FEED);
        expect(records).toHaveLength(20_000);
        const expected = Array.from({ length: 20_000 }, (_, at) => storedRecord(at + 1));
        expect(sameTally(recount(records), recount(expected))).toBe(true);
        const began = performance.now();
        for (let at = 1; at <= 100; at++) {
          expect(await again.copies(storedRecord(at * 200).record.id)).toHaveLength(1);
          expect(await again.held(FEED, [storedRecord(at).record.id])).toHaveLength(1);
        }
        // A store that looked through all rows each time would take many times as long.
        expect(performance.now() - began).toBeLessThan(5_000);
      }),
    120_000,
  );
}

function usingNew<Where extends Place>(make: () => Promise<Where>): Using<Where> {
  const places: Where[] = [];
  afterEach(async () => {
    for (const place of places.splice(0)) await place.remove();
  });
  return async (use) => {
    const place = await make();
    places.push(place);
    await use(place);
  };
}

/** What every store of the library promises; `make` gives a new, empty place. */
export function storeContract(make: () => Promise<Place>): void {
  const using = usingNew(make);
  storesAndAnswers(using);
  keepsCommitsWhole(using);
  servesAClient(using);
  holdsMuch(using);
}

/** What a store promises besides whose medium gets full and is damaged. */
export function mediumContract(make: () => Promise<Medium>): void {
  storeContract(make);
  survivesItsMedium(usingNew(make));
}
