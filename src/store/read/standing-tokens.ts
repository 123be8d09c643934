import type { ReadTx } from './transaction.ts';

/** Which of these tokens may still be used at this time. */
export async function standingTokens(tx: ReadTx, tokens: readonly string[], now: string): Promise<Set<string>> {
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'standing-tokens',
    text: `select t.id from unnest($2::uuid[]) as asked(id) join token t on t.firm = $1 and t.id = asked.id
where t.revoked_at is null and (t.expires_at is null or t.expires_at > $3)`,
    values: [tx.firm, tokens, now],
  });
  return new Set(rows.map(({ id }) => id));
}
