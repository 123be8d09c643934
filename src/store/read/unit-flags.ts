import type { RecordState } from '../../protocol/record.ts';
import type { ReadTx } from './transaction.ts';

/** The flags about these units by these rules, as they are stored. */
export async function unitFlags(
  tx: ReadTx,
  units: readonly string[],
  rules: readonly string[],
): Promise<readonly RecordState[]> {
  const { rows } = await tx.client.query<{ state: RecordState }>({
    name: 'unit-flags',
    text: `select l.state from unnest($2::uuid[]) as u(id)
cross join lateral (
  select id from flag where firm = $1 and unit = u.id and rule = any($3) and not voided offset 0
) f
cross join lateral (select feed, seq from head where firm = $1 and id = f.id and not gone offset 0) h
cross join lateral (select state from ledger where firm = $1 and feed = h.feed and seq = h.seq offset 0) l
order by f.id`,
    values: [tx.firm, units, rules],
  });
  return rows.map(({ state }) => state);
}
