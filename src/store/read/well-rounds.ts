import type { ReadTx } from './transaction.ts';

/**
 * The ids of what the earlier rounds of wells are told from: the summaries of the newest visits that ended, and every
 * measuring point.
 *
 * @param most summaries of a well
 */
export async function wellRoundIds(tx: ReadTx, wells: readonly string[], most: number): Promise<string[]> {
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'well-round-ids',
    text: `select s.id from unnest($2::uuid[]) as wanted(id) cross join lateral (
  select id from visit_summary where firm = $1 and well = wanted.id and not voided
  order by arrived desc, id desc limit $3
) s
union all
select p.id from unnest($2::uuid[]) as wanted(id) cross join lateral (
  select id from measuring_point where firm = $1 and well = wanted.id and not voided offset 0
) p`,
    values: [tx.firm, wells, most],
  });
  return rows.map(({ id }) => id);
}
