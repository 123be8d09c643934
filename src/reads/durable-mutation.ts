import type pg from 'pg';
import { clientStanding, durableBefore } from '../store/read/client-standing.ts';
import { inRead } from '../store/read/transaction.ts';

/** Up to which of its mutations a client may forget what it keeps; 0 where no backup was ever noted. */
export async function durableMutation(pool: pg.Pool, firm: string, client: string): Promise<number> {
  if ((await durableBefore(pool)) === null) return 0;
  const standing = await inRead(pool, firm, (tx) => clientStanding(tx, client));
  return standing.durable;
}
