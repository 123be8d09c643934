import { bigintArray, byteaArray, integerArray, textArray, uuidArray } from './array-parameter.ts';
import type { WriteTx } from './transaction.ts';

/** A row of the ledger, with what its feed amounts to after it. */
export interface LedgerRow {
  readonly feed: string;
  readonly seq: number;
  readonly record: string;
  readonly kind: string;
  readonly rev: number;
  /** RFC 8785 text of the record; null where it left the feed. */
  readonly state: string | null;
  readonly intent: string | null;
  readonly client: string | null;
  readonly mutation: number | null;
  readonly liveCount: number;
  readonly contentHash: Buffer;
  readonly historyHash: Buffer;
}

const INSERT = `insert into ledger (firm, feed, seq, record, kind, rev, state, intent, client, mutation, received_at,
  live_count, content_hash, history_hash)
select $1, r.feed, r.seq, r.record, r.kind, r.rev, r.state::json, r.intent::json, r.client, r.mutation, $2,
  r.live_count, r.content_hash, r.history_hash
from unnest($3::text[], $4::bigint[], $5::uuid[], $6::text[], $7::int[], $8::text[], $9::text[], $10::uuid[],
  $11::bigint[], $12::bigint[], $13::bytea[], $14::bytea[])
  as r(feed, seq, record, kind, rev, state, intent, client, mutation, live_count, content_hash, history_hash)`;

export async function insertLedger(tx: WriteTx, receivedAt: string, rows: readonly LedgerRow[]): Promise<void> {
  if (rows.length === 0) return;
  const column = <Key extends keyof LedgerRow>(key: Key) => rows.map((row) => row[key]);
  const columns = [
    textArray(column('feed')),
    bigintArray(column('seq')),
    uuidArray(column('record')),
    textArray(column('kind')),
    integerArray(column('rev')),
    textArray(column('state')),
    textArray(column('intent')),
    uuidArray(column('client')),
    bigintArray(column('mutation')),
    bigintArray(column('liveCount')),
    byteaArray(column('contentHash')),
    byteaArray(column('historyHash')),
  ];
  await tx.client.query({ name: 'insert-ledger', text: INSERT, values: [tx.firm, receivedAt, ...columns] });
}
