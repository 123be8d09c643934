import type { ReadTx } from './transaction.ts';

/** The ids of the wells of a nest that still count. */
export async function nestWells(tx: ReadTx, nest: string): Promise<string[]> {
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'nest-wells',
    text: 'select id from well where firm = $1 and nest = $2 and not voided order by id',
    values: [tx.firm, nest],
  });
  return rows.map(({ id }) => id);
}
