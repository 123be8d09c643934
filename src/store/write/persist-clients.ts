import type { WriteTx } from './transaction.ts';

/** What a push says about its client. */
export interface ClientUpdate {
  readonly id: string;
  /** Null where a copy was handed in by another: then it belongs to whom it did, or to nobody yet. */
  readonly token: string | null;
  readonly lastMutation: number;
  readonly schemaVersion: number;
  readonly unsentCount: number | null;
  readonly unsentOldest: string | null;
  readonly differenceMs: number | null;
}

/** What a partner hands in says nothing of what the phone itself still has, of its app, its clock, or when it was in touch. */
const UPSERT = `insert into client (firm, id, token, last_mutation, schema_version, unsent_count, unsent_oldest,
  difference_ms, pushed_at)
select $1, r.id, r.token, r.last_mutation, r.schema_version, r.unsent_count, r.unsent_oldest, r.difference_ms,
  case when r.token is not null then $2::timestamptz end
from unnest($3::uuid[], $4::uuid[], $5::bigint[], $6::int[], $7::int[], $8::timestamptz[], $9::bigint[])
  as r(id, token, last_mutation, schema_version, unsent_count, unsent_oldest, difference_ms)
on conflict (firm, id) do update set token = coalesce(excluded.token, client.token), last_mutation = excluded.last_mutation,
  schema_version = case when excluded.token is null then client.schema_version else excluded.schema_version end,
  unsent_count = case when excluded.token is null then client.unsent_count else excluded.unsent_count end,
  unsent_oldest = case when excluded.token is null then client.unsent_oldest else excluded.unsent_oldest end,
  difference_ms = case when excluded.token is null then client.difference_ms
    else coalesce(excluded.difference_ms, client.difference_ms) end,
  pushed_at = coalesce(excluded.pushed_at, client.pushed_at)`;

export async function upsertClients(tx: WriteTx, now: string, rows: readonly ClientUpdate[]): Promise<void> {
  if (rows.length === 0) return;
  const column = <Key extends keyof ClientUpdate>(key: Key) => rows.map((row) => row[key]);
  await tx.client.query({
    name: 'upsert-clients',
    text: UPSERT,
    values: [
      tx.firm,
      now,
      column('id'),
      column('token'),
      column('lastMutation'),
      column('schemaVersion'),
      column('unsentCount'),
      column('unsentOldest'),
      column('differenceMs'),
    ],
  });
}
