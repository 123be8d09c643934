import type { RecordState } from '../../protocol/record.ts';
import type { ReadTx } from './transaction.ts';

/** The records of these kinds that live in these feeds, as they stand, in the order of their ids; voided ones too. */
export async function feedStates(
  tx: ReadTx,
  feeds: readonly string[],
  kinds: readonly string[],
): Promise<RecordState[]> {
  const { rows } = await tx.client.query<{ state: RecordState }>({
    name: 'feed-states',
    text: `select l.state from (
  select feed, seq, id from head where firm = $1 and feed = any($2) and kind = any($3) and not gone
) h
cross join lateral (select state from ledger where firm = $1 and feed = h.feed and seq = h.seq offset 0) l
order by h.id`,
    values: [tx.firm, feeds, kinds],
  });
  return rows.map(({ state }) => state);
}
