import { feedMarks, revisionsNowhere } from '../store/read/ledger-witnesses.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import type { Difference } from './difference.ts';
import type { Departure } from './ledger-feed.ts';

const AT_ONCE = 2_000;

/** Feeds that went further than their ledger does, by what is noted beside it. */
async function shortFeeds(tx: ReadTx, tails: ReadonlyMap<string, number>): Promise<Difference[]> {
  const marks = await feedMarks(tx);
  return marks.flatMap(({ feed, head, floor }): Difference[] => {
    const tail = tails.get(feed) ?? 0;
    if (tail >= Math.max(head, floor)) return [];
    const detail = `the ledger ends at row ${tail}, its newest head is of row ${head} and its floor is row ${floor}`;
    return [{ feed, kind: 'feed', id: feed, what: 'history', detail }];
  });
}

/** Records that left a feed for another one, of which no feed has the revision with which they came there. */
async function lostOnTheWay(tx: ReadTx, departures: readonly Departure[]): Promise<Difference[]> {
  const found: Difference[] = [];
  // asked once at least, as the other questions are
  for (let from = 0; from === 0 || from < departures.length; from += AT_ONCE) {
    const some = departures.slice(from, from + AT_ONCE);
    for (const at of await revisionsNowhere(tx, some)) {
      const { feed, kind, record: id, rev, seq } = some[at] as Departure;
      const detail = `row ${seq} says that it left for another feed, and no feed has its revision ${rev}`;
      found.push({ feed, kind, id, what: 'history', detail });
    }
  }
  return found;
}

/**
 * Compares where the feeds end with what is noted beside the ledger, and with each other.
 *
 * @param tails the last row of each feed
 */
export async function endsAgainst(
  tx: ReadTx,
  tails: ReadonlyMap<string, number>,
  departures: readonly Departure[],
): Promise<Difference[]> {
  return [...(await shortFeeds(tx, tails)), ...(await lostOnTheWay(tx, departures))];
}
