import type pg from 'pg';
import { alongKeys } from '../store/read/along-keys.ts';
import { inRead } from '../store/read/transaction.ts';
import type { Difference } from './difference.ts';
import { recomputeIn } from './recompute.ts';
import { endsAgainst } from './verify-ends.ts';
import { receiptsAgainst } from './verify-receipts.ts';
import { recordsAgainst } from './verify-records.ts';

/**
 * Lists where what is stored of a firm is not what its ledger gives, and where the ledger lacks what others witness: the
 * links of its rows alone do not show that an end was cut off. All of it in one snapshot, in which every witness was
 * written with its row, so a restored backup or dump accuses nobody: what it lost, it lost with its witnesses.
 */
export function verifyFirm(pool: pg.Pool, firm: string): Promise<Difference[]> {
  return inRead(pool, firm, async (tx) => {
    const { differences, departures, tails } = await recomputeIn(tx);
    await alongKeys(tx);
    const ends = await endsAgainst(tx, tails, departures);
    return [...differences, ...ends, ...(await receiptsAgainst(tx, tails)), ...(await recordsAgainst(tx))];
  });
}
