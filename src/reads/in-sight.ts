import { Problem } from '../protocol/problem.ts';
import { type RecordRow, recordStates } from '../store/read/record-states.ts';
import type { ReadTx } from '../store/read/transaction.ts';

/**
 * A record of this kind. The same for one that is not there, is of another firm, or lives in a feed that the reader does
 * not follow.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing`
 */
export async function inSight(
  tx: ReadTx,
  feeds: readonly string[] | null,
  kind: string,
  id: string,
): Promise<RecordRow> {
  const [row] = await recordStates(tx, [id], feeds);
  if (row?.kind === kind) return row;
  throw new Problem('record_missing', `no ${kind} ${id} is among the records that you may read`);
}
