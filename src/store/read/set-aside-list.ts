import type { Role } from '../../protocol/kind.ts';
import type { Prisma } from '../generated/client.ts';
import type { RecordsTx } from '../records.ts';

export const STANDINGS = ['waiting', 'kept', 'released'] as const;
export type Standing = (typeof STANDINGS)[number];

/** A mutation that was not applied, as it came. */
export interface SetAsideInfo {
  readonly id: string;
  readonly client: string;
  readonly mutation: number;
  readonly role: Role;
  readonly person: string | null;
  readonly raw: Buffer;
  readonly outcome: 'set_aside' | 'refused';
  readonly code: string;
  readonly detail: string;
  readonly waitsFor: readonly string[];
  readonly standing: Standing;
  readonly receivedAt: string;
}

type Row = Prisma.SetAsideGetPayload<object>;

function setAsideInfo(row: Row): SetAsideInfo {
  return {
    id: row.id,
    client: row.client,
    mutation: Number(row.mutation),
    role: row.role as Role,
    person: row.person,
    raw: Buffer.from(row.raw),
    outcome: row.outcome as SetAsideInfo['outcome'],
    code: row.code,
    detail: row.detail,
    waitsFor: row.waitsFor,
    standing: row.standing as Standing,
    receivedAt: row.receivedAt.toISOString(),
  };
}

/** A place in the list: the oldest come first, and those of one moment by id. */
export interface SetAsidePlace {
  readonly receivedAt: string;
  readonly id: string;
}

function later({ receivedAt, id }: SetAsidePlace): Prisma.SetAsideWhereInput {
  const at = new Date(receivedAt);
  return { OR: [{ receivedAt: { gt: at } }, { receivedAt: at, id: { gt: id } }] };
}

export async function setAsidesAfter(
  tx: RecordsTx,
  standing: Standing | null,
  after: SetAsidePlace | null,
  limit: number,
): Promise<SetAsideInfo[]> {
  const where = { firm: tx.firm, ...(standing === null ? {} : { standing }), ...(after === null ? {} : later(after)) };
  const orderBy = [{ receivedAt: 'asc' as const }, { id: 'asc' as const }];
  const rows = await tx.db.setAside.findMany({ where, orderBy, take: limit });
  return rows.map(setAsideInfo);
}

export async function setAsideOfId(tx: RecordsTx, id: string): Promise<SetAsideInfo | null> {
  const row = await tx.db.setAside.findUnique({ where: { firm_id: { firm: tx.firm, id } } });
  return row && setAsideInfo(row);
}
