import type { IdbDatabase, IdbFactory, IdbRequest, IdbTransaction } from './idb-like.ts';
import { StoreError } from './store-error.ts';

export const DB_VERSION = 1;
export const TABLES = ['meta', 'outbox', 'carried', 'feeds', 'records', 'damaged'] as const;
export type Table = (typeof TABLES)[number];

type Failure = { readonly name: string; readonly message: string } | null;

export function failed(what: string, cause: Failure): StoreError {
  const { name = 'unknown', message = 'no reason was given' } = cause ?? {};
  if (name === 'QuotaExceededError') {
    return new StoreError('store_full', `no room to ${what}: make room on the device and try again`, cause);
  }
  if (name === 'VersionError') {
    return new StoreError('store_newer', `a newer version of this app has written the store: use that one`, cause);
  }
  return new StoreError('store_failed', `the browser could not ${what}: ${name}, ${message}. Try again`, cause);
}

export function resultOf<Result>(request: IdbRequest<Result>, what: string): Promise<Result> {
  return new Promise((resolve, reject) => {
    request.addEventListener('success', () => resolve(request.result));
    request.addEventListener('error', () => reject(failed(what, request.error)));
  });
}

/** Whole or not at all, and on the disk when it returns. */
export function finished(transaction: IdbTransaction, what: string): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.addEventListener('complete', () => resolve());
    transaction.addEventListener('abort', () => reject(failed(what, transaction.error)));
  });
}

function makeTables(db: IdbDatabase): void {
  db.createObjectStore('meta', { keyPath: 'key' });
  db.createObjectStore('outbox', { keyPath: ['client', 'mutationId'] });
  db.createObjectStore('carried', { keyPath: ['client', 'mutationId'] });
  db.createObjectStore('feeds', { keyPath: 'feed' });
  const records = db.createObjectStore('records', { keyPath: ['feed', 'id'] });
  for (const index of ['kind', 'id']) records.createIndex(index, index);
  db.createObjectStore('damaged', { keyPath: ['table', 'key'] });
}

export async function openDatabase(factory: IdbFactory, name: string): Promise<IdbDatabase> {
  const request = factory.open(name, DB_VERSION);
  request.addEventListener('upgradeneeded', () => makeTables(request.result));
  const db = await resultOf(request, `open the store ${name}`);
  // Somebody deletes the store or brings a newer version of it: do not stand in the way.
  db.addEventListener('versionchange', () => db.close());
  return db;
}
