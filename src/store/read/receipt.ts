import type { RecordsTx } from '../records.ts';

/** Whether a mutation of a client was received before. */
export async function wasReceived(tx: RecordsTx, client: string, mutation: number): Promise<boolean> {
  const key = { firm: tx.firm, client, mutation: BigInt(mutation) };
  return (await tx.db.receipt.count({ where: key })) > 0;
}

/** The last mutation of a client that was received; 0 where none was. */
export async function lastReceived(tx: RecordsTx, client: string): Promise<number> {
  const { _max } = await tx.db.receipt.aggregate({ where: { firm: tx.firm, client }, _max: { mutation: true } });
  return Number(_max.mutation ?? 0);
}
