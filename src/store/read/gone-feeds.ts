import type { ReadTx } from './transaction.ts';

/** The feeds that have a row which says that a record is gone. */
export async function feedsWithGone(tx: ReadTx): Promise<string[]> {
  const { rows } = await tx.client.query<{ feed: string }>({
    name: 'feeds-with-gone',
    text: 'select distinct feed from head where firm = $1 and gone order by feed',
    values: [tx.firm],
  });
  return rows.map(({ feed }) => feed);
}

/** Up to where rows that say that a record is gone may be missing; 0 where none was dropped. */
export async function floorOf(tx: ReadTx, feed: string): Promise<number> {
  const { rows } = await tx.client.query<{ floor: number }>({
    name: 'feed-floor',
    text: 'select floor from feed_floor where firm = $1 and feed = $2',
    values: [tx.firm, feed],
  });
  return rows[0]?.floor ?? 0;
}
