import { canonicalText } from '../protocol/content-hash.ts';
import type { KindDefinition } from '../protocol/kind.ts';
import { BY_ID } from '../store/read/record-order.ts';
import { recordPages } from '../store/read/record-pages.ts';
import { inRead } from '../store/read/transaction.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { isId, readListCursor, writeListCursor } from './list-cursor.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { isFoundByEventFeed } from './record-filters.ts';

/** Which records of a kind: those in a feed, under a record, or whose fields hold these values. */
export interface RecordFilters {
  readonly feed?: string | undefined;
  readonly under?: string | undefined;
  readonly equal: Readonly<Record<string, string>>;
}

export interface RecordPage {
  /** Byte for byte as in their feeds. */
  readonly texts: readonly string[];
  /** The cursor of the next page; null where this is the last one. */
  readonly next: string | null;
}

type Feeds = readonly string[] | null;

function among(feeds: Feeds, feed: string | undefined): Feeds {
  if (feed === undefined) return feeds;
  return feeds === null || feeds.includes(feed) ? [feed] : [];
}

/** The filters as the typed table of the kind knows them, and the feeds to look in. */
function lookup(kind: KindDefinition, filters: RecordFilters, sight: Feeds) {
  const { feed, under } = filters;
  const { event, ...rest } = filters.equal;
  const byFeed = event !== undefined && isFoundByEventFeed(kind);
  const feeds = among(among(sight, feed), byFeed ? `event:${event}` : undefined);
  const parent = kind.home.in === 'parent' && under !== undefined ? { [kind.home.field]: under } : {};
  const named = event === undefined || byFeed ? {} : { event };
  return { equal: { ...rest, ...named, ...parent }, includeVoided: true, feeds };
}

/**
 * A page of the records of one kind, in the order of their ids. What was there when the first page was read is listed
 * exactly once; what is made meanwhile may be missed, as a phone may hand in an older id: the feed misses nothing.
 */
export async function recordPage(
  ctx: ReadContext,
  reader: Reader,
  kind: KindDefinition,
  filters: RecordFilters,
  page: { readonly cursor?: string | undefined; readonly limit: number },
): Promise<RecordPage> {
  const place = readListCursor(kind.plural, page.cursor, isId);
  const after = place === null ? null : { key: place, id: place };
  const bounds = { after, before: null, limit: page.limit + 1, backward: false };
  const rows = await inRead(ctx.pool, reader.firm, async (tx) => {
    const filter = lookup(kind, filters, await feedsInSight(tx, reader));
    return recordPages(tx, kind.name, BY_ID, null, filter, bounds);
  });
  const within = rows.slice(0, page.limit);
  const last = rows.length > page.limit ? within.at(-1) : undefined;
  const texts = within.map((row) => canonicalText(row.state));
  return { texts, next: last ? writeListCursor(kind.plural, last.id) : null };
}
