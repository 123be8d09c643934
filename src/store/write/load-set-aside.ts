import type { Role } from '../../protocol/kind.ts';
import { uuidArray } from './array-parameter.ts';
import type { WriteTx } from './transaction.ts';

/** A mutation that was kept as it came, with what is needed to try it again. */
export interface SetAsideRow {
  readonly id: string;
  readonly client: string;
  readonly mutation: number;
  readonly role: Role;
  readonly person: string | null;
  readonly raw: Buffer;
  readonly code: string;
  readonly standing: 'waiting' | 'released' | 'kept';
  readonly differenceMs: number | null;
  readonly uncertaintyMs: number | null;
  /** Of whoever handed it in, and when that had looked for news last: by these its right is judged. */
  readonly device: string | null;
  readonly since: string | null;
  /** The device that handed it in as a copy of what another one captured; null where its own did. */
  readonly carrier: string | null;
  /** Of the shapes that it was written in; null where that was not noted, as before it was that of any version. */
  readonly schemaVersion: number | null;
}

/** The columns of a `SetAsideRow`. */
export const SELECT_SET_ASIDE = `select id, client, mutation, role, person, raw, code, standing,
  difference_ms as "differenceMs", uncertainty_ms as "uncertaintyMs", device, since,
  schema_version as "schemaVersion", carrier from set_aside`;

/** Those that wait for one of these records. */
export async function waitingFor(tx: WriteTx, ids: readonly string[]): Promise<SetAsideRow[]> {
  if (ids.length === 0) return [];
  const { rows } = await tx.client.query<SetAsideRow>({
    name: 'waiting-for',
    text: `${SELECT_SET_ASIDE} where firm = $1 and standing = 'waiting' and waits_for && $2::uuid[] order by received_at, mutation`,
    values: [tx.firm, uuidArray(ids)],
  });
  return rows;
}

export async function setAsideById(tx: WriteTx, ids: readonly string[]): Promise<SetAsideRow[]> {
  if (ids.length === 0) return [];
  const { rows } = await tx.client.query<SetAsideRow>({
    name: 'set-aside-by-id',
    text: `${SELECT_SET_ASIDE} where firm = $1 and id = any($2::uuid[])`,
    values: [tx.firm, ids],
  });
  return rows;
}

/** How many mutations of a revoked token are kept already, whatever client ids it pushed them under. */
export async function countSetAside(tx: WriteTx, token: string): Promise<number> {
  const { rows } = await tx.client.query<{ count: number }>({
    name: 'count-set-aside',
    text: `select count(*) as count from client c join set_aside s on s.firm = c.firm and s.client = c.id
where c.firm = $1 and c.token = $2`,
    values: [tx.firm, token],
  });
  return rows[0]?.count ?? 0;
}
