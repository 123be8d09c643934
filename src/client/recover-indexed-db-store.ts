import type { IdbDatabase, IdbTransaction } from './idb-like.ts';
import { finished, openDatabase, resultOf, type Table } from './idb-requests.ts';
import { keyText, operationFor, type Row, storedValue } from './idb-rows.ts';
import type { IndexedDbOptions } from './indexed-db-store.ts';
import { changesAfter, type Recovered, recoveredOf, type Salvage } from './salvage.ts';
import type { CarriedEntry, Identity, OutboxEntry } from './store.ts';

interface Sorted<Value> {
  readonly values: readonly Value[];
  readonly unreadable: readonly Row[];
}

function sorted<Value>(table: Table, rows: readonly unknown[]): Sorted<Value> {
  const values = rows.map((row) => storedValue<Value>(table, row));
  return {
    values: values.filter((value) => value !== undefined),
    unreadable: (rows as readonly Row[]).filter((_, at) => values[at] === undefined),
  };
}

async function rowsOf(db: IdbDatabase, table: Table): Promise<readonly unknown[]> {
  return resultOf(db.transaction([table], 'readonly').objectStore(table).getAll(), `read ${table}`);
}

function keepDamaged(transaction: IdbTransaction, table: Table, rows: readonly Row[]): void {
  for (const row of rows) transaction.objectStore('damaged').put({ table, key: keyText(table, row), row });
}

/**
 * Begins a damaged store anew with every record of the outbox, own and carried, that can still be read, in one
 * transaction. What cannot be read stays in a table of its own; what was synced is pulled again.
 */
export async function recoverIndexedDbStore({ api, name, newId }: IndexedDbOptions): Promise<Recovered> {
  const db = await openDatabase(api.indexedDB, name);
  try {
    const identity = sorted<Identity>(
      'meta',
      (await rowsOf(db, 'meta')).filter((row) => (row as Row).key === 'identity'),
    );
    const outbox = sorted<OutboxEntry>('outbox', await rowsOf(db, 'outbox'));
    const carried = sorted<CarriedEntry>('carried', await rowsOf(db, 'carried'));
    const salvage: Salvage = {
      identity: identity.values[0] ?? null,
      entries: outbox.values,
      carried: carried.values,
    };
    const operations = changesAfter(salvage, newId).map((change) => operationFor(api, change));
    const tables: Table[] = ['meta', 'outbox', 'carried', 'feeds', 'records', 'damaged'];
    const transaction = db.transaction(tables, 'readwrite', { durability: 'strict' });
    const done = finished(transaction, `recover the store ${name}`);
    for (const table of tables.filter((one) => one !== 'damaged')) transaction.objectStore(table).clear();
    keepDamaged(transaction, 'meta', identity.unreadable);
    keepDamaged(transaction, 'outbox', outbox.unreadable);
    keepDamaged(transaction, 'carried', carried.unreadable);
    for (const operation of operations) operation(transaction);
    await done;
    const unreadable = [identity, outbox, carried].reduce((count, part) => count + part.unreadable.length, 0);
    return recoveredOf(salvage, unreadable);
  } finally {
    db.close();
  }
}
