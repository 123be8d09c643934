import type { ReadTx } from './transaction.ts';

/** The ids of the states of these units. */
export async function storedUnitStates(tx: ReadTx, units: readonly string[]): Promise<string[]> {
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'unit-states',
    text: `select s.id from unnest($2::uuid[]) as t(id) cross join lateral (
  select id from unit_state where firm = $1 and unit = t.id and not voided offset 0
) s`,
    values: [tx.firm, units],
  });
  return rows.map(({ id }) => id);
}
