import type { ReadTx } from './transaction.ts';

export interface ClientStanding {
  readonly epoch: string;
  readonly lastMutation: number;
  readonly durable: number;
}

/** What the server knows of a client: its last mutation, and up to which its mutations are in a backup as well. */
export async function clientStanding(tx: ReadTx, client: string | null): Promise<ClientStanding> {
  const { rows } = await tx.client.query<ClientStanding>({
    name: 'client-standing',
    text: `select i.epoch, coalesce(c.last_mutation, 0) as "lastMutation", coalesce(c.durable, 0) as durable
from installation i left join client c on c.firm = $1 and c.id = $2`,
    values: [tx.firm, client],
  });
  const [row] = rows;
  if (!row) throw new Error('the database has no installation row: it was not set up by the migrations');
  return row;
}
