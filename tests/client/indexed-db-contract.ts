import { v7 } from 'uuid';
import { expect, it, vi } from 'vitest';
import type { IdbApi } from '../../src/client/idb-like.ts';
import { openDatabase, resultOf } from '../../src/client/idb-requests.ts';
import type { Row } from '../../src/client/idb-rows.ts';
import { openIndexedDbStore } from '../../src/client/indexed-db-store.ts';
import { recoverIndexedDbStore } from '../../src/client/recover-indexed-db-store.ts';
import type { DurableStore } from '../../src/client/store.ts';
import { type Medium, mediumContract } from './store-contract.ts';
import { captured, feedState, identity } from './store-fixtures.ts';

/** The databases of a browser, or of what stands in for one. */
export interface Databases extends IdbApi {
  readonly IDBObjectStore: { readonly prototype: { put(...given: never[]): unknown } };
}

interface Browser extends Medium {
  readonly api: IdbApi;
  readonly name: string;
  open(): Promise<DurableStore>;
}

/** Puts another value under the first key of a table, past every check. */
async function overwrite({ api, name }: Pick<Browser, 'api' | 'name'>, table: string, change: (row: Row) => Row) {
  const db = await openDatabase(api.indexedDB, name);
  const store = db.transaction([table], 'readwrite').objectStore(table);
  const [row] = await resultOf(store.getAll(), 'read');
  await resultOf(store.put(change(row as Row)), 'write');
  db.close();
}

/** A browser says so in the middle of a transaction, at whichever row it is. */
function quota({ IDBObjectStore }: Databases, isFull: boolean): void {
  vi.restoreAllMocks();
  if (!isFull) return;
  const { put } = IDBObjectStore.prototype;
  let left = 100;
  vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(function (this: unknown, ...given: never[]) {
    left -= 1;
    if (left < 0) throw Object.assign(new Error('no more room'), { name: 'QuotaExceededError' });
    return put.apply(this, given);
  });
}

function place(databases: Databases): Browser {
  // all places of one browser have their databases side by side
  const name = `field ${v7()}`;
  const options = { api: databases, name, newId: v7 };
  const at = { api: databases, name };
  return {
    ...at,
    open: () => openIndexedDbStore(options),
    close: (store) => (store as DurableStore).close(),
    damage: async () => {
      await overwrite(at, 'feeds', (row) => ({ ...row, text: String(row.text).replace('"seq":', '"sep":') }));
      await overwrite(at, 'outbox', (row) => ({ ...row, text: `${String(row.text)} ` }));
      return [1];
    },
    recover: () => recoverIndexedDbStore(options),
    full: (isFull) => quota(databases, isFull),
    remove: async () => quota(databases, false),
  };
}

/** What the store promises in a browser, beside what every store does. @param databases new ones, or always the same */
export function indexedDbContract(databases: () => Databases): void {
  const browser = async () => place(databases());

  mediumContract(browser);

  it('says which failure is a lack of room', async () => {
    const { open, full } = await browser();
    const store = await open();
    full(true);
    const many = Array.from({ length: 60 }, (_, at) => captured(at + 1)).flat();
    await expect(store.commit(many)).rejects.toMatchObject({ code: 'store_full' });
    full(false);
    expect([await store.outbox(), await store.identity()]).toEqual([[], null]);
  });

  it('refuses the commits of a tab once another has opened the store, and leaves its readers alone', async () => {
    const { open } = await browser();
    const first = await open();
    await first.commit(captured(1));
    const second = await open();
    await expect(first.commit(captured(2))).rejects.toMatchObject({ code: 'store_taken_over' });
    expect(await first.outbox()).toHaveLength(1);
    await second.commit(captured(2));
    expect(await second.identity()).toEqual(identity(3));
    await first.close();
    await expect(first.outbox()).rejects.toMatchObject({ code: 'store_closed' });
  });

  it('stores nothing of a commit with something in it that has no text', async () => {
    const { open } = await browser();
    const store = await open();
    const odd = { ...feedState(2), count: 2n as unknown as number };
    await expect(store.commit([...captured(1), { put: 'feed', state: odd }])).rejects.toThrow('BigInt');
    expect([await store.outbox(), await store.identity()]).toEqual([[], null]);
    await store.commit(captured(1));
    expect(await store.outbox()).toHaveLength(1);
  });

  it('takes a new client id where its own can no longer be read, and numbers anew what was not sent', async () => {
    const { open, recover, api, name } = await browser();
    const store = await open();
    for (let at = 1; at <= 3; at++) await store.commit(captured(at));
    await store.close();
    await overwrite({ api, name }, 'meta', (row) => ({ ...row, text: 'lost' }));
    expect(await recover()).toMatchObject({ kept: 3, unsent: 3, unreadable: 1 });
    const again = await open();
    const now = await again.identity();
    expect(now).toMatchObject({ nextMutation: 4, sequence: 3, durable: 0 });
    expect(now?.client).not.toBe(identity(1).client);
    const lines = (await again.outbox()).map(({ client, line }) => [client, JSON.parse(line).mutationId]);
    expect(lines).toEqual([1, 2, 3].map((number) => [now?.client, number]));
  });
}
