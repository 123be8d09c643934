import { IDBFactory, IDBKeyRange, IDBObjectStore } from 'fake-indexeddb';
import { describe } from 'vitest';
import { indexedDbContract } from './indexed-db-contract.ts';

describe('the IndexedDB store', () => {
  indexedDbContract(() => ({ indexedDB: new IDBFactory(), IDBKeyRange, IDBObjectStore }));
});
