import type { Role } from '../../protocol/kind.ts';
import type { Prisma } from '../generated/client.ts';
import type { RecordsTx } from '../records.ts';

/** A token without its secret, which nobody can read again. */
export interface TokenInfo {
  readonly id: string;
  readonly label: string;
  readonly role: Role;
  readonly device: string | null;
  readonly laboratory: string | null;
  readonly createdAt: string;
  readonly expiresAt: string | null;
  readonly revokedAt: string | null;
}

const SELECT = {
  id: true,
  label: true,
  role: true,
  device: true,
  laboratory: true,
  createdAt: true,
  expiresAt: true,
  revokedAt: true,
} as const;

function tokenInfo(row: Prisma.TokenGetPayload<{ select: typeof SELECT }>): TokenInfo {
  return {
    ...row,
    role: row.role as Role,
    createdAt: row.createdAt.toISOString(),
    expiresAt: row.expiresAt?.toISOString() ?? null,
    revokedAt: row.revokedAt?.toISOString() ?? null,
  };
}

export async function tokensAfter(tx: RecordsTx, after: string | null, limit: number): Promise<TokenInfo[]> {
  const where = { firm: tx.firm, ...(after === null ? {} : { id: { gt: after } }) };
  const rows = await tx.db.token.findMany({ where, orderBy: { id: 'asc' }, take: limit, select: SELECT });
  return rows.map(tokenInfo);
}

export async function tokenById(tx: RecordsTx, id: string): Promise<TokenInfo | null> {
  const row = await tx.db.token.findUnique({ where: { firm_id: { firm: tx.firm, id } }, select: SELECT });
  return row && tokenInfo(row);
}
