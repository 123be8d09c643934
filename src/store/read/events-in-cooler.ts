import type { ReadTx } from './transaction.ts';

/** Events other than this one of which a container is packed in the cooler. */
export async function otherEventsIn(tx: ReadTx, cooler: string, event: string): Promise<string[]> {
  const { rows } = await tx.client.query<{ event: string }>({
    name: 'events-in-cooler',
    text: `select distinct c.event from (
  select event, voided from container where firm = $1 and cooler = $2 offset 0
) c where c.event <> $3 and not c.voided order by c.event`,
    values: [tx.firm, cooler, event],
  });
  return rows.map(({ event: id }) => id);
}
