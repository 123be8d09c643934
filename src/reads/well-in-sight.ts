import { Problem } from '../protocol/problem.ts';
import { type RecordRow, recordStates } from '../store/read/record-states.ts';
import type { ReadTx } from '../store/read/transaction.ts';

/**
 * The same for a well that is not there, is of another firm, or lives in a feed that the reader does not follow.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing`
 */
export async function wellInSight(tx: ReadTx, feeds: readonly string[] | null, id: string): Promise<RecordRow> {
  const [row] = await recordStates(tx, [id], feeds);
  if (row?.kind === 'well') return row;
  throw new Problem('record_missing', `no well ${id} is among the records that you may read`);
}
