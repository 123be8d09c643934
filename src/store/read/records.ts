import { canonicalText } from '../../protocol/content-hash.ts';
import type { RecordState } from '../../protocol/record.ts';
import type { Prisma } from '../generated/client.ts';
import type { RecordsTx } from '../records.ts';

/** A record as it stands now, with where it lives. */
export interface StoredRecord {
  readonly feed: string;
  readonly rowHash: string;
  readonly state: RecordState;
  /** Byte for byte as in its feed. */
  readonly text: string;
}

const SELECT = { feed: true, rowHash: true, newest: { select: { state: true } } } as const;

function stored({ feed, rowHash, newest }: Prisma.HeadGetPayload<{ select: typeof SELECT }>): StoredRecord {
  const state = newest.state as unknown as RecordState;
  return { feed, rowHash: Buffer.from(rowHash ?? []).toString('hex'), state, text: canonicalText(state) };
}

/** The records under these ids, in the order of their ids; what is not here, or no longer, is left out. */
export async function recordsById(tx: RecordsTx, ids: readonly string[]): Promise<StoredRecord[]> {
  const where = { firm: tx.firm, id: { in: [...ids] }, gone: false };
  const rows = await tx.db.head.findMany({ where, orderBy: { id: 'asc' }, select: SELECT });
  return rows.map(stored);
}

/** @returns null where the firm has no such record, or only had it */
export async function recordById(tx: RecordsTx, id: string): Promise<StoredRecord | null> {
  const [record] = await recordsById(tx, [id]);
  return record ?? null;
}
