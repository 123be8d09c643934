import { bigintArray, byteaArray, integerArray, textArray, uuidArray } from './array-parameter.ts';
import type { SetAsideRow } from './load-set-aside.ts';
import type { WriteTx } from './transaction.ts';

export interface NewReceipt {
  readonly client: string;
  readonly mutation: number;
  readonly hash: Buffer;
  readonly outcome: string;
  readonly baseRev: number | null;
}

export async function insertReceipts(tx: WriteTx, receivedAt: string, rows: readonly NewReceipt[]): Promise<void> {
  if (rows.length === 0) return;
  const column = <Key extends keyof NewReceipt>(key: Key) => rows.map((row) => row[key]);
  await tx.client.query({
    name: 'insert-receipts',
    text: `insert into receipt (firm, client, mutation, hash, outcome, base_rev, received_at)
select $1, r.client, r.mutation, r.hash, r.outcome, r.base_rev, $2
from unnest($3::uuid[], $4::bigint[], $5::bytea[], $6::text[], $7::int[]) as r(client, mutation, hash, outcome, base_rev)`,
    values: [
      tx.firm,
      receivedAt,
      uuidArray(column('client')),
      bigintArray(column('mutation')),
      byteaArray(column('hash')),
      textArray(column('outcome')),
      integerArray(column('baseRev')),
    ],
  });
}

export interface NewSetAside extends SetAsideRow {
  readonly outcome: 'set_aside' | 'refused';
  readonly detail: string;
  readonly waitsFor: readonly string[];
}

const INSERT_SET_ASIDE = `insert into set_aside (firm, id, client, mutation, role, person, raw, outcome, code, detail,
  waits_for, standing, difference_ms, uncertainty_ms, device, since, schema_version, carrier, received_at)
select $1, r.id, r.client, r.mutation, r.role, r.person, r.raw, r.outcome, r.code, r.detail, r.waits_for::uuid[],
  r.standing, r.difference_ms, r.uncertainty_ms, r.device, r.since, r.schema_version, r.carrier, $2
from unnest($3::uuid[], $4::uuid[], $5::bigint[], $6::text[], $7::uuid[], $8::bytea[], $9::text[], $10::text[],
  $11::text[], $12::text[], $13::text[], $14::bigint[], $15::bigint[], $16::uuid[], $17::timestamptz[], $18::int[],
  $19::uuid[])
  as r(id, client, mutation, role, person, raw, outcome, code, detail, waits_for, standing, difference_ms, uncertainty_ms,
  device, since, schema_version, carrier)`;

export async function insertSetAside(tx: WriteTx, receivedAt: string, rows: readonly NewSetAside[]): Promise<void> {
  if (rows.length === 0) return;
  const column = <Key extends keyof NewSetAside>(key: Key) => rows.map((row) => row[key]);
  await tx.client.query({
    name: 'insert-set-aside',
    text: INSERT_SET_ASIDE,
    values: [
      tx.firm,
      receivedAt,
      column('id'),
      column('client'),
      column('mutation'),
      column('role'),
      column('person'),
      column('raw'),
      column('outcome'),
      column('code'),
      column('detail'),
      rows.map((row) => `{${row.waitsFor.join(',')}}`),
      column('standing'),
      column('differenceMs'),
      column('uncertaintyMs'),
      column('device'),
      column('since'),
      column('schemaVersion'),
      column('carrier'),
    ],
  });
}

export async function markReleased(tx: WriteTx, ids: readonly string[]): Promise<void> {
  if (ids.length === 0) return;
  await tx.client.query({
    name: 'mark-released',
    text: `update set_aside set standing = 'released' where firm = $1 and id = any($2::uuid[])`,
    values: [tx.firm, ids],
  });
}

/** What was set aside and still is, with the reason that it has by now. */
export type DecidedAnew = Pick<NewSetAside, 'id' | 'outcome' | 'code' | 'detail' | 'waitsFor' | 'standing'>;

/** What waited for a record that came, and lacks another one or a right; or was kept and waits as if it had come today. */
export async function markDecided(tx: WriteTx, rows: readonly DecidedAnew[]): Promise<void> {
  if (rows.length === 0) return;
  const column = <Key extends keyof DecidedAnew>(key: Key) => rows.map((row) => row[key]);
  await tx.client.query({
    name: 'mark-decided',
    text: `update set_aside s set outcome = w.outcome, code = w.code, detail = w.detail, waits_for = w.waits_for::uuid[],
  standing = w.standing
from unnest($2::uuid[], $3::text[], $4::text[], $5::text[], $6::text[], $7::text[])
  as w(id, outcome, code, detail, waits_for, standing)
where s.firm = $1 and s.id = w.id and s.standing <> 'released'`,
    values: [
      tx.firm,
      uuidArray(column('id')),
      textArray(column('outcome')),
      textArray(column('code')),
      textArray(column('detail')),
      rows.map((row) => `{${row.waitsFor.join(',')}}`),
      textArray(column('standing')),
    ],
  });
}

/**
 * What was kept for a newer server is not read again by this version of the shapes; what a server failed on is, since that
 * may be mended without a new version. A version never sinks.
 */
export async function markTried(tx: WriteTx, ids: readonly string[], version: number): Promise<void> {
  if (ids.length === 0) return;
  await tx.client.query({
    name: 'mark-tried',
    text: `update set_aside set tried_version = $3
where firm = $1 and id = any($2::uuid[]) and standing <> 'released' and code <> 'server_failed' and tried_version < $3`,
    values: [tx.firm, ids, version],
  });
}
