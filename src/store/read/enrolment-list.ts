import type { Role } from '../../protocol/kind.ts';
import type { Prisma } from '../generated/client.ts';
import type { RecordsTx } from '../records.ts';

/** A code without the code, which nobody can read again. */
export interface EnrolmentInfo {
  readonly id: string;
  readonly label: string;
  readonly role: Role;
  readonly device: string | null;
  readonly crew: string | null;
  readonly person: string | null;
  readonly madeAt: string;
  readonly expiresAt: string;
  readonly withdrawnAt: string | null;
  readonly usedAt: string | null;
  /** What the phone that used it calls itself. */
  readonly usedLabel: string | null;
  /** The token that it gave out. */
  readonly token: string | null;
}

const SELECT = {
  id: true,
  label: true,
  role: true,
  device: true,
  crew: true,
  person: true,
  madeAt: true,
  expiresAt: true,
  withdrawnAt: true,
  usedAt: true,
  usedLabel: true,
  token: true,
} as const;

function enrolmentInfo(row: Prisma.EnrolmentCodeGetPayload<{ select: typeof SELECT }>): EnrolmentInfo {
  return {
    ...row,
    role: row.role as Role,
    madeAt: row.madeAt.toISOString(),
    expiresAt: row.expiresAt.toISOString(),
    withdrawnAt: row.withdrawnAt?.toISOString() ?? null,
    usedAt: row.usedAt?.toISOString() ?? null,
    token: row.usedAt === null || row.withdrawnAt !== null ? null : row.token,
  };
}

export async function enrolmentsAfter(tx: RecordsTx, after: string | null, limit: number): Promise<EnrolmentInfo[]> {
  const where = { firm: tx.firm, ...(after === null ? {} : { id: { gt: after } }) };
  const rows = await tx.db.enrolmentCode.findMany({ where, orderBy: { id: 'asc' }, take: limit, select: SELECT });
  return rows.map(enrolmentInfo);
}

export async function enrolmentById(tx: RecordsTx, id: string): Promise<EnrolmentInfo | null> {
  const row = await tx.db.enrolmentCode.findUnique({ where: { firm_id: { firm: tx.firm, id } }, select: SELECT });
  return row && enrolmentInfo(row);
}
