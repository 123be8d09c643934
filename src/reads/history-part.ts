import { Problem } from '../protocol/problem.ts';
import { type HistoryEntry, HistoryTelling } from '../rules/record-history/history-entry.ts';
import { type HistoryKey, inOneOrder } from '../rules/record-history/in-one-order.ts';
import { feedsOfRecords, historyKeys } from '../store/read/history-rows.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { readListCursor, writeListCursor } from './list-cursor.ts';
import { toldAt } from './told-history.ts';

export interface HistoryPart {
  readonly entries: readonly HistoryEntry[];
  readonly next: string | null;
}

/** The rows before a part against which its first change is told: a move leaves a row without a state. */
const CONTEXT_ROWS = 2;

/** A record of more rows in a feed than this is read as a file. */
const MOST_PLACES = 10_000;

async function placesOf(tx: ReadTx, id: string, most: number): Promise<HistoryKey[]> {
  const lines: HistoryKey[][] = [];
  for (const feed of await feedsOfRecords(tx, [id])) {
    const keys = await historyKeys(tx, [id], feed, 0, most + 1);
    if (keys.length > most) {
      const file = 'GET /v1/PLURAL/ID/history/export gives all of it as a file';
      throw new Problem('too_large', `record ${id} has more than ${most} rows in ${feed}, too many for parts: ${file}`);
    }
    lines.push(keys);
  }
  const places: HistoryKey[] = [];
  for await (const key of inOneOrder(lines.map(each))) places.push(key);
  return places;
}

async function* each(keys: readonly HistoryKey[]): AsyncGenerator<HistoryKey> {
  yield* keys;
}

/**
 * A part of what a record ever said, oldest first; whoever asks may see the record.
 *
 * @throws Problem `too_large` where there is more than parts are made of: none of it is left out without a word
 */
export async function historyPart(
  tx: ReadTx,
  id: string,
  { limit, cursor }: { readonly limit: number; readonly cursor?: string | undefined },
  most = MOST_PLACES,
): Promise<HistoryPart> {
  const list = `history ${id}`;
  const begin = Number(readListCursor(list, cursor, (place) => /^\d{1,9}$/.test(place)) ?? 0);
  const skip = Math.max(0, begin - CONTEXT_ROWS);
  const places = await placesOf(tx, id, most);
  const told = await toldAt(tx, places.slice(skip, begin + limit), new HistoryTelling());
  const next = places.length > begin + limit ? writeListCursor(list, String(begin + limit)) : null;
  return { entries: told.slice(begin - skip), next };
}
