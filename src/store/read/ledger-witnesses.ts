import { TYPED_TABLES } from '../tables.ts';
import { SELECT_SET_ASIDE, type SetAsideRow } from '../write/load-set-aside.ts';
import type { ReadTx } from './transaction.ts';

/** How far a feed went, as is noted beside its ledger. */
export interface FeedMarks {
  readonly feed: string;
  /** The furthest of its heads; 0 where it has none. */
  readonly head: number;
  /** Up to where rows that say that a record is gone were dropped; 0 where none was. */
  readonly floor: number;
}

/** Of every feed that has heads or a floor, found by hopping from one to the next along the key. */
export async function feedMarks(tx: ReadTx): Promise<FeedMarks[]> {
  const { rows } = await tx.client.query<FeedMarks>({
    name: 'feed-marks',
    text: `with recursive hop(feed) as (
  (select feed from head where firm = $1 order by feed limit 1)
  union all
  select (select h.feed from head h where h.firm = $1 and h.feed > hop.feed order by h.feed limit 1)
  from hop where hop.feed is not null
), known(feed) as (
  select feed from hop where feed is not null union select feed from feed_floor where firm = $1
)
select known.feed, coalesce(h.seq, 0) as head, coalesce(f.floor, 0) as floor from known
left join lateral (
  select seq from head where firm = $1 and feed = known.feed order by seq desc limit 1
) h on true
left join feed_floor f on f.firm = $1 and f.feed = known.feed order by known.feed`,
    values: [tx.firm],
  });
  return rows;
}

/** Which of these revisions of records no feed has. @returns their places in the list */
export async function revisionsNowhere(
  tx: ReadTx,
  revisions: readonly { readonly record: string; readonly rev: number }[],
): Promise<number[]> {
  const { rows } = await tx.client.query<{ at: number }>({
    name: 'revisions-nowhere',
    text: `select w.at - 1 as at from unnest($2::uuid[], $3::int[]) with ordinality as w(record, rev, at)
left join lateral (
  select true as found from ledger where firm = $1 and record = w.record and rev = w.rev and state is not null limit 1
) l on true where l.found is null order by w.at`,
    values: [tx.firm, revisions.map(({ record }) => record), revisions.map(({ rev }) => rev)],
  });
  return rows.map(({ at }) => at);
}

/** What was set aside and applied later, by id, from after one on. */
export async function releasedAfter(tx: ReadTx, after: string, limit: number): Promise<SetAsideRow[]> {
  const { rows } = await tx.client.query<SetAsideRow>({
    name: 'released-after',
    text: `${SELECT_SET_ASIDE}
where firm = $1 and id > $2 and standing = 'released' order by id limit $3`,
    values: [tx.firm, after, limit],
  });
  return rows;
}

/** A change of a record by a mutation. */
export interface ChangeBy {
  readonly record: string;
  readonly client: string;
  readonly mutation: number;
}

/** Which of these changes no feed has. @returns their places in the list */
export async function changesNowhere(tx: ReadTx, changes: readonly ChangeBy[]): Promise<number[]> {
  const { rows } = await tx.client.query<{ at: number }>({
    name: 'changes-nowhere',
    text: `select w.at - 1 as at
from unnest($2::uuid[], $3::uuid[], $4::bigint[]) with ordinality as w(record, client, mutation, at)
left join lateral (
  select true as found from ledger
  where firm = $1 and record = w.record and client = w.client and mutation = w.mutation limit 1
) l on true where l.found is null order by w.at`,
    values: [
      tx.firm,
      changes.map(({ record }) => record),
      changes.map(({ client }) => client),
      changes.map(({ mutation }) => mutation),
    ],
  });
  return rows.map(({ at }) => at);
}

/** A row of a typed table, and the newest revision of its record in the ledger. */
export interface TypedRevision {
  readonly id: string;
  readonly rev: number;
  readonly feed: string | null;
  readonly ledgerRev: number | null;
}

/** Rows of the typed table of a kind by id, from after one on. */
export async function typedRevisions(tx: ReadTx, kind: string, after: string, limit: number): Promise<TypedRevision[]> {
  const table = TYPED_TABLES[kind]?.table;
  if (table === undefined) return [];
  const { rows } = await tx.client.query<TypedRevision>({
    name: `typed-revisions-${kind}`,
    text: `select t.id, t.rev, l.feed, l.rev as "ledgerRev"
from (select id, rev from "${table}" where firm = $1 and id > $2 order by id limit $3) t
left join lateral (
  select feed, rev from ledger where firm = $1 and record = t.id order by rev desc limit 1
) l on true order by t.id`,
    values: [tx.firm, after, limit],
  });
  return rows;
}
