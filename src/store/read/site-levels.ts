import type { ReadTx } from './transaction.ts';

/**
 * The events at a site that the reader may see, in the order of their ids.
 *
 * @param feeds null for every feed of the firm
 */
export async function siteEvents(tx: ReadTx, site: string, feeds: readonly string[] | null): Promise<string[]> {
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'site-events',
    text: `select e.id from event e
where e.firm = $1 and e.site = $2 and not e.voided and ($3::text[] is null or 'event:' || e.id::text = any($3))
order by e.id`,
    values: [tx.firm, site, feeds],
  });
  return rows.map(({ id }) => id);
}
