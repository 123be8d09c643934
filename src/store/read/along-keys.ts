import type { ReadTx } from './transaction.ts';

/**
 * From here on, what is read page by page in the order of a key is read along that key. Left to itself the planner may read
 * and sort all that is left for each page: of 200,000 receipts, 300 ms a page, and with their number squared for all.
 */
export async function alongKeys(tx: ReadTx): Promise<void> {
  await tx.client.query('set local enable_sort = off; set local enable_bitmapscan = off');
}
