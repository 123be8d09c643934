import type { RecordsTx } from '../records.ts';

/** Whether a mutation of a client was received before. */
export async function wasReceived(tx: RecordsTx, client: string, mutation: number): Promise<boolean> {
  const key = { firm: tx.firm, client, mutation: BigInt(mutation) };
  return (await tx.db.receipt.count({ where: key })) > 0;
}
