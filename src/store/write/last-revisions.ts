import type { WriteTx } from './transaction.ts';

/** The last revision of each record that ever was, wherever it lived. */
export async function lastRevisions(tx: WriteTx, ids: readonly string[]): Promise<Map<string, number>> {
  if (ids.length === 0) return new Map();
  const { rows } = await tx.client.query<{ id: string; rev: number }>({
    name: 'last-revisions',
    text: `select wanted.id, l.rev from unnest($2::uuid[]) as wanted(id)
cross join lateral (select max(rev) as rev from ledger where firm = $1 and record = wanted.id offset 0) l
where l.rev is not null`,
    values: [tx.firm, ids],
  });
  return new Map(rows.map((row) => [row.id, row.rev]));
}
