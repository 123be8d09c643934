import { checkedText, damagedValue, readCheckedText } from './checked-text.ts';
import type { IdbApi, IdbTransaction } from './idb-like.ts';
import type { Table } from './idb-requests.ts';
import type { Change } from './store.ts';

/** A row of any table: its key members, and the value as checked text. */
export interface Row {
  readonly text: unknown;
  readonly [member: string]: unknown;
}

/** The key of a row as one text; the check of its value covers it. */
export function keyText(table: Table, row: Row): string {
  const of = (...members: readonly string[]) => members.map((member) => String(row[member])).join(' ');
  if (table === 'records') return of('feed', 'id', 'kind');
  return table === 'feeds' ? of('feed') : table === 'meta' ? of('key') : of('client', 'mutationId');
}

/** The value of a row, or undefined where it is not what was written. */
export function storedValue<Value>(table: Table, row: unknown): Value | undefined {
  return readCheckedText<Value>(keyText(table, row as Row), (row as Row).text);
}

export function valuesOf<Value>(where: string, table: Table, rows: readonly unknown[]): Value[] {
  return rows.map((row) => {
    const value = storedValue<Value>(table, row);
    if (value === undefined) throw damagedValue(`${where}, ${table}`, keyText(table, row as Row));
    return value;
  });
}

interface Keyed {
  readonly table: Table;
  readonly key: Readonly<Record<string, unknown>>;
  readonly value: unknown;
}

function keyedOf(change: Extract<Change, { put: string }>): Keyed {
  switch (change.put) {
    case 'identity':
      return { table: 'meta', key: { key: 'identity' }, value: change.identity };
    case 'entry': {
      const { client, mutationId } = change.entry;
      return { table: 'outbox', key: { client, mutationId }, value: change.entry };
    }
    case 'carried': {
      const { client, mutationId } = change.carried;
      return { table: 'carried', key: { client, mutationId }, value: change.carried };
    }
    case 'feed':
      return { table: 'feeds', key: { feed: change.state.feed }, value: change.state };
    case 'record': {
      const { feed, record } = change.stored;
      return { table: 'records', key: { feed, id: record.id, kind: record.kind }, value: change.stored };
    }
  }
}

function rowOf({ table, key, value }: Keyed): Row {
  const row: Row = { ...key, text: null };
  return { ...row, text: checkedText(keyText(table, row), value) };
}

type Operation = (transaction: IdbTransaction) => void;

/** Arrays sort behind texts, so this is every key that begins with the feed. */
export function keysOfFeed(api: IdbApi, feed: string): unknown {
  return api.IDBKeyRange.bound([feed], [feed, []]);
}

/** What one change does to the tables. Its text is made at once: what cannot be stored fails before anything is. */
export function operationFor(api: IdbApi, change: Change): Operation {
  if ('put' in change) {
    const keyed = keyedOf(change);
    const row = rowOf(keyed);
    return (transaction) => void transaction.objectStore(keyed.table).put(row);
  }
  if (change.drop === 'record') {
    const { feed, id } = change;
    return (transaction) => void transaction.objectStore('records').delete([feed, id]);
  }
  if (change.drop === 'feed') {
    const { feed } = change;
    return (transaction) => {
      transaction.objectStore('feeds').delete(feed);
      transaction.objectStore('records').delete(keysOfFeed(api, feed));
    };
  }
  const { client, mutationId } = change;
  const table = change.drop === 'entry' ? 'outbox' : 'carried';
  return (transaction) => void transaction.objectStore(table).delete([client, mutationId]);
}
