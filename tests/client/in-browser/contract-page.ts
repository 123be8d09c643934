import { type Databases, indexedDbContract } from '../indexed-db-contract.ts';
import { tell } from './tell.ts';
import { runAll } from './vitest-here.ts';

const here = globalThis as unknown as Databases;
const { indexedDB, IDBKeyRange, IDBObjectStore } = here;

indexedDbContract(() => ({ indexedDB, IDBKeyRange, IDBObjectStore }));
await tell('ended', await runAll());
