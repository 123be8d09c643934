import type { ReadTx } from './transaction.ts';

/** What a client was told of one of its mutations. */
export interface ReceiptEntry {
  readonly client: string;
  readonly mutation: number;
  readonly outcome: string;
  readonly receivedAt: string;
}

/** The receipts of the firm by client and number, from after one of them on. */
export async function receiptsAfter(
  tx: ReadTx,
  { client, mutation }: Pick<ReceiptEntry, 'client' | 'mutation'>,
  limit: number,
): Promise<ReceiptEntry[]> {
  const { rows } = await tx.client.query<ReceiptEntry>({
    name: 'receipts-after',
    text: `select client, mutation, outcome, received_at as "receivedAt" from receipt
where firm = $1 and (client, mutation) > ($2::uuid, $3::bigint) order by client, mutation limit $4`,
    values: [tx.firm, client, mutation, limit],
  });
  return rows;
}

/** A place of a feed, and the revision of a record that should stand there. */
export interface Place {
  readonly feed: string;
  readonly seq: number;
  readonly id: string;
  readonly rev: number;
}

/** What stands at a place instead; null where there is no such row. */
export interface OtherRow {
  /** Of the place in the list of those that were asked for. */
  readonly at: number;
  readonly record: string | null;
  readonly kind: string | null;
  readonly rev: number | null;
}

/** Those places where something else stands, or nothing. */
export async function placesUnlike(tx: ReadTx, places: readonly Place[]): Promise<OtherRow[]> {
  const { rows } = await tx.client.query<OtherRow>({
    name: 'places-unlike',
    text: `select w.at - 1 as at, l.record, l.kind, l.rev
from unnest($2::text[], $3::bigint[], $4::text[], $5::bigint[]) with ordinality as w(feed, seq, record, rev, at)
left join lateral (
  select record, kind, rev from ledger where firm = $1 and feed = w.feed and seq = w.seq offset 0
) l on true
where l.record::text is distinct from w.record or l.rev is distinct from w.rev order by w.at`,
    values: [
      tx.firm,
      places.map(({ feed }) => feed),
      places.map(({ seq }) => seq),
      places.map(({ id }) => id),
      places.map(({ rev }) => rev),
    ],
  });
  return rows;
}

/** How far a client came, as is noted beside its receipts. */
export interface ClientMark {
  readonly id: string;
  readonly lastMutation: number;
  readonly durable: number;
}

/** Of the clients that push in numbers of their own; a request for one answer has none beside its receipts. */
export async function clientMarks(tx: ReadTx): Promise<ClientMark[]> {
  const { rows } = await tx.client.query<ClientMark>({
    name: 'client-marks',
    text: 'select id, last_mutation as "lastMutation", durable from client where firm = $1 order by id',
    values: [tx.firm],
  });
  return rows;
}
