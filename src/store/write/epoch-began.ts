import type { WriteTx } from './transaction.ts';

/**
 * Whether the data of the firm was ever set back, so that one revision may have stood for two changes: where its feeds
 * stood as another epoch began is kept, and the first epoch has nothing of that.
 */
export async function epochBegan(tx: WriteTx): Promise<boolean> {
  const { rows } = await tx.client.query<{ began: boolean }>({
    name: 'epoch-began',
    text: 'select exists (select from epoch_anchor where firm = $1) as began',
    values: [tx.firm],
  });
  return rows[0]?.began ?? false;
}
