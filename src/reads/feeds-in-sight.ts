import type { Role } from '../protocol/kind.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { followedFeeds } from './followed-feeds.ts';
import type { Reader } from './reader.ts';

/** Who sees all of the firm. Whoever is not named here sees the feeds that they follow. */
const OF_THE_FIRM: readonly Role[] = ['coordinator', 'dashboard', 'admin'];

export function seesAll({ role }: Pick<Reader, 'role'>): boolean {
  return OF_THE_FIRM.includes(role);
}

/** The feeds whose records a reader may see; null for all of the firm, whose rows alone the database shows. */
export async function feedsInSight(tx: ReadTx, reader: Reader): Promise<readonly string[] | null> {
  if (seesAll(reader)) return null;
  return (await followedFeeds(tx, reader)).map(({ feed }) => feed);
}
