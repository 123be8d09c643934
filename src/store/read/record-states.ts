import type { RecordState } from '../../protocol/record.ts';
import type { ReadTx } from './transaction.ts';

/** A record as it stands, with the feed in which it lives. */
export interface RecordRow {
  readonly id: string;
  readonly kind: string;
  readonly feed: string;
  readonly seq: number;
  readonly state: RecordState;
}

/** Joins the head of a record, and its newest state, to whatever stands for `t`. */
export const WITH_STATE = `join head h on h.firm = t.firm and h.id = t.id and not h.gone
  join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq`;

/**
 * The records under these ids, of whatever kind, in no particular order; ids that are not here are left out.
 *
 * @param feeds the feeds that the reader may see; null where that is every feed of the firm
 */
export async function recordStates(
  tx: ReadTx,
  ids: readonly string[],
  feeds: readonly string[] | null,
): Promise<RecordRow[]> {
  const { rows } = await tx.client.query<RecordRow>({
    name: 'record-states',
    text: `select h.id, h.kind, h.feed, h.seq, l.state
from (select distinct $1::uuid as firm, w.id from unnest($2::uuid[]) as w(id)) t ${WITH_STATE}
where $3::text[] is null or h.feed = any($3)`,
    values: [tx.firm, ids, feeds],
  });
  return rows;
}
