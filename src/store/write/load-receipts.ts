import type { WriteTx } from './transaction.ts';

export interface ClientRow {
  readonly id: string;
  /** The token under which it pushed last; null where only copies of its outbox were handed in. */
  readonly token: string | null;
  /** The device of that token. */
  readonly device: string | null;
  /** Server time of the list of feeds that it knew when it captured what it hands in; null where it never said. */
  readonly seenAt: string | null;
  readonly lastMutation: number;
  /** Its mutations up to this one are in a backup as well; 0 where no backup was ever noted. */
  readonly durable: number;
}

/** What became of a mutation that was sent before. */
export interface ReceiptRow {
  readonly client: string;
  readonly mutation: number;
  readonly hash: Buffer;
  readonly outcome: string;
  readonly baseRev: number | null;
}

export async function loadClients(tx: WriteTx, ids: readonly string[]): Promise<Map<string, ClientRow>> {
  const { rows } = await tx.client.query<ClientRow>({
    name: 'clients',
    text: `select c.id, c.token, t.device, c.last_mutation as "lastMutation", c.durable, c.seen_at as "seenAt"
from client c left join token t on t.firm = $1 and t.id = c.token where c.firm = $1 and c.id = any($2::uuid[])`,
    values: [tx.firm, ids],
  });
  return new Map(rows.map((row) => [row.id, row]));
}

/** The receipts of these mutations: client and number at the same place of both lists. */
export async function loadReceipts(
  tx: WriteTx,
  clients: readonly string[],
  mutations: readonly number[],
): Promise<Map<string, ReceiptRow>> {
  if (clients.length === 0) return new Map();
  const { rows } = await tx.client.query<ReceiptRow>({
    name: 'receipts',
    text: `select r.client, r.mutation, r.hash, r.outcome, r.base_rev as "baseRev"
from unnest($2::uuid[], $3::bigint[]) as wanted(client, mutation)
cross join lateral (
  select * from receipt where firm = $1 and client = wanted.client and mutation = wanted.mutation offset 0
) r`,
    values: [tx.firm, clients, mutations],
  });
  return new Map(rows.map((row) => [receiptKey(row.client, row.mutation), row]));
}

export function receiptKey(client: string, mutation: number): string {
  return `${client}:${mutation}`;
}
