import { bigintArray, booleanArray, byteaArray, integerArray, textArray, uuidArray } from './array-parameter.ts';
import type { HeadRow } from './head-row.ts';
import type { WriteTx } from './transaction.ts';

const UPSERT = `insert into head (firm, feed, id, kind, seq, rev, gone, parent, visit, row_hash, merge)
select $1, h.feed, h.id, h.kind, h.seq, h.rev, h.gone, h.parent, h.visit, h.row_hash, h.merge::json
from unnest($2::text[], $3::uuid[], $4::text[], $5::bigint[], $6::int[], $7::bool[], $8::uuid[], $9::uuid[],
  $10::bytea[], $11::text[]) as h(feed, id, kind, seq, rev, gone, parent, visit, row_hash, merge)
on conflict (firm, feed, id) do update set seq = excluded.seq, rev = excluded.rev, gone = excluded.gone,
  parent = excluded.parent, visit = excluded.visit, row_hash = excluded.row_hash, merge = excluded.merge`;

async function upsert(tx: WriteTx, rows: readonly HeadRow[]): Promise<void> {
  if (rows.length === 0) return;
  const column = <Key extends keyof HeadRow>(key: Key) => rows.map((row) => row[key]);
  const columns = [
    textArray(column('feed')),
    uuidArray(column('id')),
    textArray(column('kind')),
    bigintArray(column('seq')),
    integerArray(column('rev')),
    booleanArray(column('gone')),
    uuidArray(column('parent')),
    uuidArray(column('visit')),
    byteaArray(column('rowHash')),
    textArray(column('merge')),
  ];
  await tx.client.query({ name: 'upsert-head', text: UPSERT, values: [tx.firm, ...columns] });
}

/** One row a feed and id. What leaves a feed is written first: a record is live in one feed at a time. */
export async function upsertHeads(tx: WriteTx, rows: readonly HeadRow[]): Promise<void> {
  const gone = rows.filter((row) => row.gone);
  const here = rows.filter((row) => !row.gone);
  await Promise.all([upsert(tx, gone), upsert(tx, here)]);
}

export interface RememberedAnew {
  readonly feed: string;
  readonly id: string;
  readonly merge: string | null;
}

/** What is remembered for merging, of records that did not change: no feed tells it, and no hash covers it. */
export async function rewriteMemories(tx: WriteTx, rows: readonly RememberedAnew[]): Promise<void> {
  if (rows.length === 0) return;
  const column = <Key extends keyof RememberedAnew>(key: Key) => rows.map((row) => row[key]);
  await tx.client.query({
    name: 'rewrite-memories',
    text: `update head h set merge = r.merge::json
from unnest($2::text[], $3::uuid[], $4::text[]) as r(feed, id, merge)
where h.firm = $1 and h.feed = r.feed and h.id = r.id and not h.gone`,
    values: [tx.firm, textArray(column('feed')), uuidArray(column('id')), textArray(column('merge'))],
  });
}
