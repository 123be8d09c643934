import type { IdbApi, IdbDatabase, IdbTransaction } from './idb-like.ts';
import { failed, finished, openDatabase, resultOf, type Table } from './idb-requests.ts';
import { keysOfFeed, operationFor, type Row, valuesOf } from './idb-rows.ts';
import type { CarriedEntry, Change, DurableStore, FeedState, Identity, OutboxEntry, StoredRecord } from './store.ts';
import { StoreError } from './store-error.ts';

export interface IndexedDbOptions {
  /** A browser's `window`. */
  readonly api: IdbApi;
  readonly name: string;
  /** Names this opening of the store among all others. */
  readonly newId: () => string;
}

interface Opening {
  readonly api: IdbApi;
  readonly db: IdbDatabase;
  readonly name: string;
  readonly owner: string;
}

const OWNER = 'owner';
const WRITTEN: Table[] = ['meta', 'outbox', 'carried', 'feeds', 'records'];

function begin({ db, name }: Opening, tables: Table[], mode: 'readonly' | 'readwrite'): IdbTransaction {
  try {
    return db.transaction(tables, mode, { durability: 'strict' });
  } catch (error) {
    throw new StoreError('store_closed', `the store ${name} was closed: open it again`, error);
  }
}

function takenOver(name: string): StoreError {
  const what = `the store ${name} was opened in another tab or window, which writes there now; nothing was stored`;
  return new StoreError('store_taken_over', `${what}. Go on there, or open it here again`);
}

/**
 * All changes in one transaction, begun by asking who opened the store last: the one before writes no more. Two that
 * took numbers of one client would lose what one of them has recorded.
 */
async function commit(opening: Opening, changes: readonly Change[]): Promise<void> {
  const operations = changes.map((change) => operationFor(opening.api, change));
  const transaction = begin(opening, WRITTEN, 'readwrite');
  const what = `write to the store ${opening.name}`;
  const done = finished(transaction, what);
  const owner = transaction.objectStore('meta').get(OWNER);
  let refusal: StoreError | null = null;
  owner.addEventListener('success', () => {
    try {
      if ((owner.result as Row | undefined)?.text !== opening.owner) throw takenOver(opening.name);
      for (const operation of operations) operation(transaction);
    } catch (error) {
      refusal = error instanceof StoreError ? error : failed(what, error as Error);
      transaction.abort();
    }
  });
  return done.catch((error: unknown) => {
    throw refusal ?? error;
  });
}

async function allOf<Value>(opening: Opening, table: Table): Promise<Value[]> {
  const rows = begin(opening, [table], 'readonly').objectStore(table).getAll();
  return valuesOf<Value>(opening.name, table, await resultOf(rows, `read ${table}`));
}

async function identity(opening: Opening): Promise<Identity | null> {
  const row = begin(opening, ['meta'], 'readonly').objectStore('meta').get('identity');
  const found = await resultOf(row, 'read meta');
  return found === undefined ? null : (valuesOf<Identity>(opening.name, 'meta', [found])[0] ?? null);
}

async function recordsWhere(opening: Opening, index: 'kind' | 'id', value: string): Promise<StoredRecord[]> {
  const records = begin(opening, ['records'], 'readonly').objectStore('records');
  const rows = await resultOf(records.index(index).getAll(value), 'read records');
  return valuesOf<StoredRecord>(opening.name, 'records', rows);
}

async function recordsOfFeed(opening: Opening, feed: string): Promise<StoredRecord[]> {
  const records = begin(opening, ['records'], 'readonly').objectStore('records');
  const rows = await resultOf(records.getAll(keysOfFeed(opening.api, feed)), 'read records');
  return valuesOf<StoredRecord>(opening.name, 'records', rows);
}

async function held(opening: Opening, feed: string, ids: readonly string[]): Promise<StoredRecord[]> {
  const records = begin(opening, ['records'], 'readonly').objectStore('records');
  const rows = await Promise.all(ids.map((id) => resultOf(records.get([feed, id]), 'read records')));
  return valuesOf<StoredRecord>(
    opening.name,
    'records',
    rows.filter((row) => row !== undefined),
  );
}

async function takeOwnership(opening: Opening): Promise<void> {
  const transaction = begin(opening, ['meta'], 'readwrite');
  const done = finished(transaction, `open the store ${opening.name}`);
  transaction.objectStore('meta').put({ key: OWNER, text: opening.owner });
  await done;
}

/**
 * What a phone keeps, in the database of a browser or web view. Each row carries a check of its own, since what a
 * browser restores from a damaged profile is not always what was written.
 */
export async function openIndexedDbStore({ api, name, newId }: IndexedDbOptions): Promise<DurableStore> {
  const opening: Opening = { api, name, db: await openDatabase(api.indexedDB, name), owner: newId() };
  await takeOwnership(opening);
  return {
    identity: () => identity(opening),
    outbox: () => allOf<OutboxEntry>(opening, 'outbox'),
    carried: () => allOf<CarriedEntry>(opening, 'carried'),
    feeds: () => allOf<FeedState>(opening, 'feeds'),
    recordsOfFeed: (feed) => recordsOfFeed(opening, feed),
    recordsOfKind: (kind) => recordsWhere(opening, 'kind', kind),
    copies: (id) => recordsWhere(opening, 'id', id),
    held: (feed, ids) => held(opening, feed, ids),
    commit: (changes) => commit(opening, changes),
    close: async () => opening.db.close(),
  };
}
