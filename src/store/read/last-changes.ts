import type { ReadTx } from './transaction.ts';

/** When the server took the last change of each record of these kinds that lives in these feeds, by its id; in ms. */
export async function lastChanges(
  tx: ReadTx,
  feeds: readonly string[],
  kinds: readonly string[],
): Promise<ReadonlyMap<string, number>> {
  const { rows } = await tx.client.query<{ id: string; atMs: number }>({
    name: 'last-changes',
    text: `select h.id, (extract(epoch from l.received_at) * 1000)::float8 as "atMs" from (
  select feed, seq, id from head where firm = $1 and feed = any($2) and kind = any($3) and not gone
) h
cross join lateral (select received_at from ledger where firm = $1 and feed = h.feed and seq = h.seq offset 0) l`,
    values: [tx.firm, feeds, kinds],
  });
  return new Map(rows.map(({ id, atMs }) => [id, atMs]));
}
