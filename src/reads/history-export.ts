import type { KindDefinition } from '../protocol/kind.ts';
import { kindNamed } from '../protocol/kinds-by-name.ts';
import { Problem } from '../protocol/problem.ts';
import { conflictsAbout, derivedOfVisit, recordedOnly } from '../rules/record-history/derived-about.ts';
import { type HistoryEntry, HistoryTelling } from '../rules/record-history/history-entry.ts';
import { type HistoryKey, inOneOrder } from '../rules/record-history/in-one-order.ts';
import {
  changedFields,
  conflictsUnder,
  everOfVisit,
  feedsOfRecords,
  flagsEverAbout,
  historyKeys,
} from '../store/read/history-rows.ts';
import { recordStates } from '../store/read/record-states.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { toldAt } from './told-history.ts';

/** So many rows are read and told at a time; while the reader takes them, no connection is kept. */
const PAGE_ROWS = 500;
/** So many places are looked up at a time, since looking them up goes through all rows of the records. */
const KEYS_AT_ONCE = 20_000;

/** The record in sight, as it stands. @throws Problem `record_missing` */
async function inSight(tx: ReadTx, reader: Reader, kind: KindDefinition, id: string): Promise<void> {
  const [row] = await recordStates(tx, [id], await feedsInSight(tx, reader));
  if (row?.kind === kind.name) return;
  throw new Problem('record_missing', `no ${kind.name} ${id} is among the records that you may read`);
}

/** The places of a feed, looked up so many at a time. */
async function* keysOf(
  ctx: ReadContext,
  firm: string,
  records: readonly string[],
  feed: string,
): AsyncGenerator<HistoryKey> {
  for (let after = 0; ; ) {
    const from = after;
    const keys = await inRead(ctx.pool, firm, (tx) => historyKeys(tx, records, feed, from, KEYS_AT_ONCE));
    yield* keys;
    const last = keys.at(-1);
    if (!last || keys.length < KEYS_AT_ONCE) return;
    after = last.seq;
  }
}

async function* inPages<Item>(items: AsyncIterable<Item>): AsyncGenerator<readonly Item[]> {
  let page: Item[] = [];
  for await (const item of items) {
    page.push(item);
    if (page.length < PAGE_ROWS) continue;
    yield page;
    page = [];
  }
  if (page.length > 0) yield page;
}

/** The rows of these records in one order, page by page; each page is one short transaction. */
async function* pagesOf(
  ctx: ReadContext,
  firm: string,
  records: readonly string[],
): AsyncGenerator<readonly HistoryEntry[]> {
  const telling = new HistoryTelling();
  const feeds = await inRead(ctx.pool, firm, (tx) => feedsOfRecords(tx, records));
  const keys = inOneOrder(feeds.map((feed) => keysOf(ctx, firm, records, feed)));
  for await (const page of inPages(keys)) {
    yield await inRead(ctx.pool, firm, (tx) => toldAt(tx, page, telling));
  }
}

export type HistoryPages = AsyncGenerator<readonly HistoryEntry[]>;

/**
 * Everything that a record ever said, with the conflicts about it and how they were decided, oldest first.
 *
 * @throws Problem `record_missing`, before anything is given
 */
export async function recordHistoryExport(
  ctx: ReadContext,
  reader: Reader,
  kind: KindDefinition,
  id: string,
): Promise<HistoryPages> {
  const records = await inRead(ctx.pool, reader.firm, async (tx) => {
    await inSight(tx, reader, kind, id);
    const about = conflictsAbout(reader.firm, { id, kind: kind.name }, await changedFields(tx, [id]));
    return [id, ...about, ...(await conflictsUnder(tx, id))];
  });
  return pagesOf(ctx, reader.firm, records);
}

/**
 * Everything that was ever recorded at a visit and derived from it, oldest first: why a well was called stable can be
 * followed in it from the first level to the last correction.
 *
 * @throws Problem `record_missing`, before anything is given
 */
export async function visitHistoryExport(ctx: ReadContext, reader: Reader, visit: string): Promise<HistoryPages> {
  const kind = kindNamed('visit');
  if (!kind) throw new Error('there is no kind visit');
  const records = await inRead(ctx.pool, reader.firm, async (tx) => {
    await inSight(tx, reader, kind, visit);
    const all = await everOfVisit(tx, visit);
    const ids = all.map(({ id }) => id);
    const recorded = recordedOnly(all).map(({ id }) => id);
    const flags = await flagsEverAbout(tx, await feedsOfRecords(tx, recorded), recorded);
    return [...ids, ...flags, ...derivedOfVisit(reader.firm, all, await changedFields(tx, ids))];
  });
  return pagesOf(ctx, reader.firm, records);
}
