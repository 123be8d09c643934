import pg from 'pg';
import type { ClockDay } from '../../../src/store/write/device-clocks.ts';
import type { HeadRow } from '../../../src/store/write/head-row.ts';
import type { LedgerRow } from '../../../src/store/write/persist-ledger.ts';
import { deviceOfToken } from '../base-firm.ts';
import { parsed } from './parsed.ts';
import type { Statement, Statements } from './statement.ts';
import { type ClientEntry, placeKey, type ReceiptEntry, type SetAsideEntry, type Tables } from './tables.ts';
import { arrayIn, rowsOf, textsIn } from './wire-array.ts';

/** What the database says where a key is there already. */
export function keyTaken(table: string): Error {
  const error = new pg.DatabaseError(`a row of ${table} has this key already`, 0, 'error');
  error.code = '23505';
  error.table = table;
  return error;
}

const LEDGER = ['feed', 'seq', 'record', 'kind', 'rev', 'state', 'intent', 'client', 'mutation', 'liveCount'];
const HEAD = ['feed', 'id', 'kind', 'seq', 'rev', 'gone', 'parent', 'visit', 'rowHash', 'merge'];
const RECEIPT = ['client', 'mutation', 'hash', 'outcome', 'baseRev'];
const SET_ASIDE = ['id', 'client', 'mutation', 'role', 'person', 'raw', 'outcome', 'code', 'detail', 'waitsFor'];
const CLOCK = ['device', 'day', 'leastMs', 'mostMs'];

function insertLedger(tables: Tables, [, receivedAt, ...columns]: readonly unknown[]): readonly object[] {
  for (const one of rowsOf([...LEDGER, 'contentHash', 'historyHash'], columns) as unknown as LedgerRow[]) {
    const row = { ...one, receivedAt: String(receivedAt) };
    const key = placeKey(row.feed, row.seq);
    if (tables.ledger.has(key)) throw keyTaken('ledger');
    tables.put(tables.ledger, key, row);
    if (row.seq > (tables.tails.get(row.feed)?.seq ?? 0)) tables.put(tables.tails, row.feed, row);
  }
  return [];
}

function upsertHead(tables: Tables, [, ...columns]: readonly unknown[]): readonly object[] {
  for (const row of rowsOf(HEAD, columns) as unknown as HeadRow[]) {
    tables.put(tables.heads, placeKey(row.feed, row.id), row);
    const live = tables.live.get(row.id);
    if (!row.gone && live && live.feed !== row.feed) throw keyTaken('head');
    if (!row.gone) tables.put(tables.live, row.id, row);
    else if (live?.feed === row.feed) tables.remove(tables.live, row.id);
  }
  return [];
}

function insertReceipts(tables: Tables, [, receivedAt, ...columns]: readonly unknown[]): readonly object[] {
  for (const row of rowsOf(RECEIPT, columns) as unknown as ReceiptEntry[]) {
    const key = `${row.client}:${row.mutation}`;
    if (tables.receipts.has(key)) throw keyTaken('receipt');
    tables.put(tables.receipts, key, { ...row, receivedAt: String(receivedAt) });
  }
  return [];
}

function insertSetAside(tables: Tables, [, receivedAt, ...columns]: readonly unknown[]): readonly object[] {
  for (const row of rowsOf(
    [...SET_ASIDE, 'standing', 'differenceMs', 'uncertaintyMs', 'device', 'since', 'schemaVersion', 'carrier'],
    columns,
  )) {
    const waitsFor = String(row.waitsFor).slice(1, -1).split(',').filter(Boolean);
    const entry = { ...row, waitsFor, receivedAt } as unknown as SetAsideEntry;
    tables.put(tables.setAside, entry.id, entry);
  }
  return [];
}

function upsertClients(tables: Tables, [, , ids, tokens, lasts]: readonly unknown[]): readonly object[] {
  for (const row of rowsOf(['id', 'token', 'lastMutation'], [ids, tokens, lasts]) as unknown as ClientEntry[]) {
    const { token = null, durable = 0, seenAt = null } = tables.clients.get(row.id) ?? {};
    tables.put(tables.clients, row.id, { ...row, token: row.token ?? token, durable, seenAt });
  }
  return [];
}

function widenClockDays(tables: Tables, [, ...columns]: readonly unknown[]): readonly object[] {
  return (rowsOf(CLOCK, columns) as unknown as ClockDay[]).map((day) => {
    const key = `${day.device} ${day.day}`;
    const known = tables.clockDays.get(key) ?? day;
    const leastMs = Math.min(known.leastMs, day.leastMs);
    const wider = { ...day, leastMs, mostMs: Math.max(known.mostMs, day.mostMs) };
    tables.put(tables.clockDays, key, wider);
    return { ...wider };
  });
}

function datedStates(tables: Tables, [, ids]: readonly unknown[]): readonly object[] {
  const wanted = new Set(textsIn(ids));
  const rows = [...tables.ledger.values()].filter(({ record, state }) => state !== null && wanted.has(record));
  return rows
    .sort((a, b) => (a.record === b.record ? a.rev - b.rev : a.record < b.record ? -1 : 1))
    .map(({ record, state, receivedAt }) => ({ record, state: parsed(state ?? ''), at: receivedAt }));
}

function lastRevisions(tables: Tables, [, ids]: readonly unknown[]): readonly object[] {
  const wanted = new Set(textsIn(ids));
  const last = new Map<string, number>();
  for (const { record, rev } of tables.ledger.values()) {
    if (wanted.has(record)) last.set(record, Math.max(rev, last.get(record) ?? 0));
  }
  return [...last].map(([id, rev]) => ({ id, rev }));
}

function waitingFor(tables: Tables, [, ids]: readonly unknown[]): readonly object[] {
  const wanted = textsIn(ids);
  const waiting = [...tables.setAside.values()].filter(
    (one) => one.standing === 'waiting' && one.waitsFor.some((id) => wanted.includes(id)),
  );
  const order = (one: SetAsideEntry) => `${one.receivedAt} ${String(one.mutation).padStart(16, '0')}`;
  return waiting.toSorted((a, b) => (order(a) < order(b) ? -1 : 1));
}

function markReleased(tables: Tables, [, ids]: readonly unknown[]): readonly object[] {
  for (const id of textsIn(ids)) {
    const row = tables.setAside.get(id);
    if (row) tables.put(tables.setAside, id, { ...row, standing: 'released' });
  }
  return [];
}

function markDecided(tables: Tables, [, ...columns]: readonly unknown[]): readonly object[] {
  for (const row of rowsOf(['id', 'outcome', 'code', 'detail', 'waitsFor', 'standing'], columns)) {
    const known = tables.setAside.get(String(row.id));
    if (!known || known.standing === 'released') continue;
    const waitsFor = String(row.waitsFor).slice(1, -1).split(',').filter(Boolean);
    tables.put(tables.setAside, known.id, { ...known, ...row, waitsFor } as SetAsideEntry);
  }
  return [];
}

/** The typed table and its columns as the text of the statement names them. */
const typedColumns = new Map<string, { readonly table: string; readonly names: readonly string[] }>();

function columnsIn(text: string): { readonly table: string; readonly names: readonly string[] } {
  const known = typedColumns.get(text);
  if (known) return known;
  const [, table = '', list = ''] = /^insert into "(\w+)" as t \(firm, ([^)]*)\)/.exec(text) ?? [];
  if (table === '') throw new Error(`the model cannot read the columns of: ${text.slice(0, 80)}`);
  const parsed = { table, names: list.split(', ').map((name) => name.replaceAll('"', '')) };
  typedColumns.set(text, parsed);
  return parsed;
}

export const upsertTyped: Statement = (tables, [, ...columns], text) => {
  const { table, names } = columnsIn(text);
  for (const row of rowsOf(names, columns)) tables.put(tables.typedOf(table), String(row.id), row);
  return [];
};

function tailsOf(tables: Tables, [, feeds]: readonly unknown[]): readonly object[] {
  return textsIn(feeds).flatMap((feed) => {
    const row = tables.tails.get(feed);
    if (!row) return [];
    const { seq, liveCount, contentHash, historyHash } = row;
    return [{ feed, seq, liveCount, contentHash, historyHash }];
  });
}

function seenPlaces(tables: Tables, [, feeds, seqs]: readonly unknown[]): readonly object[] {
  const places = arrayIn(seqs).map(Number);
  return textsIn(feeds).map((feed, index) => {
    const seq = places[index] ?? 0;
    const historyHash = tables.ledger.get(placeKey(feed, seq))?.historyHash ?? null;
    return { feed, seq, epoch: tables.installation.epoch, historyHash };
  });
}

function goneBefore(tables: Tables, [, feed, before, limit]: readonly unknown[]): readonly object[] {
  const gone = [...tables.heads.values()].filter((head) => head.gone && head.feed === feed);
  const receivedAt = ({ seq }: HeadRow) => tables.ledger.get(placeKey(String(feed), seq))?.receivedAt ?? '';
  const first = gone.sort((a, b) => a.seq - b.seq).slice(0, Number(limit));
  return first.filter((head) => receivedAt(head) < String(before)).map(({ seq }) => ({ seq }));
}

function raiseFloor(tables: Tables, [, feed, floor]: readonly unknown[]): readonly object[] {
  const known = tables.floors.get(String(feed)) ?? 0;
  if (known < Number(floor)) tables.put(tables.floors, String(feed), Number(floor));
  return [];
}

function dropGone(tables: Tables, [, feed, seqs]: readonly unknown[]): readonly object[] {
  const dropped = new Set(arrayIn(seqs).map(Number));
  for (const [key, head] of [...tables.heads]) {
    if (head.gone && head.feed === feed && dropped.has(head.seq)) tables.remove(tables.heads, key);
  }
  return [];
}

/** What the write door asks and stores, beside the records that it decides from. */
export const WRITE_STATEMENTS: Statements = {
  clients: (tables, [, ids]) =>
    textsIn(ids).flatMap((id) => {
      const row = tables.clients.get(id);
      return row ? [{ ...row, device: deviceOfToken(row.token) }] : [];
    }),
  receipts: (tables, [, clients, mutations]) => {
    const numbers = arrayIn(mutations);
    return textsIn(clients).flatMap((client, index) => tables.receipts.get(`${client}:${numbers[index]}`) ?? []);
  },
  'waiting-for': waitingFor,
  'set-aside-by-id': (tables, [, ids]) => textsIn(ids).flatMap((id) => tables.setAside.get(id) ?? []),
  'count-set-aside': (tables, [, token]) => {
    const own = [...tables.setAside.values()].filter(({ client }) => tables.clients.get(client)?.token === token);
    return [{ count: own.length }];
  },
  tails: tailsOf,
  'seen-places': seenPlaces,
  'epoch-began': (tables) => [{ began: tables.installation.began === true }],
  'widen-clock-days': widenClockDays,
  'clock-days-of-devices': (tables, [, devices]) =>
    [...tables.clockDays.values()].filter(({ device }) => textsIn(devices).includes(device)),
  'last-revisions': lastRevisions,
  'dated-states': datedStates,
  'insert-ledger': insertLedger,
  'upsert-head': upsertHead,
  'insert-receipts': insertReceipts,
  'insert-set-aside': insertSetAside,
  'upsert-clients': upsertClients,
  'mark-released': markReleased,
  'mark-decided': markDecided,
  'gone-before': goneBefore,
  'raise-floor': raiseFloor,
  'drop-gone': dropGone,
};
