import type { RecordState } from '../../protocol/record.ts';
import type { ReadTx } from './transaction.ts';

/** Every record that belongs to a visit, the visit among them, as it stands; in no particular order. */
export async function visitRecords(tx: ReadTx, visit: string): Promise<RecordState[]> {
  const { rows } = await tx.client.query<{ state: RecordState }>({
    name: 'visit-records',
    text: `select l.state from head h
cross join lateral (select state from ledger where firm = h.firm and feed = h.feed and seq = h.seq offset 0) l
where h.firm = $1 and h.visit = $2 and not h.gone`,
    values: [tx.firm, visit],
  });
  return rows.map(({ state }) => state);
}
