import type { ClientContext } from './context.ts';
import type { Change, StoredRecord } from './store.ts';
import { hashOf, recount, sameTally } from './tally.ts';
import { type FeedRow, NO_ANSWER, type Problem, type VerifyAnswer } from './transport.ts';

/** Beyond this many questions, pulling the feed anew is cheaper than bisecting it. */
const MAX_QUESTIONS = 40;

interface Search {
  readonly feed: string;
  readonly records: readonly StoredRecord[];
  readonly changes: Change[];
  questions: number;
}

/** Prefixes are hexadecimal digits; whether one counts the dashes of a UUID must not matter. */
function digits(text: string): string {
  return text.replaceAll('-', '');
}

function under(records: readonly StoredRecord[], prefix: string): StoredRecord[] {
  return records.filter(({ record }) => digits(record.id).startsWith(digits(prefix)));
}

function replaceAll(search: Search, prefix: string, rows: readonly FeedRow[]): void {
  const { feed } = search;
  const right = rows.flatMap((row) => ('record' in row ? [row] : []));
  const kept = new Set(right.map(({ record }) => record.id));
  for (const { record } of under(search.records, prefix)) {
    if (!kept.has(record.id)) search.changes.push({ drop: 'record', feed, id: record.id });
  }
  for (const { seq, record } of right) {
    search.changes.push({ put: 'record', stored: { feed, seq, hash: hashOf(record), record } });
  }
}

/** Records that lie in none of the buckets are none of the server's. */
function dropStrays(search: Search, prefix: string, buckets: VerifyAnswer['buckets']): void {
  const strays = under(search.records, prefix).filter(
    ({ record }) => !buckets.some((bucket) => digits(record.id).startsWith(digits(bucket.prefix))),
  );
  for (const { record } of strays) search.changes.push({ drop: 'record', feed: search.feed, id: record.id });
}

/** Fruitless: the search led nowhere, so the feed has to be pulled anew. A problem: nothing was learned, ask later. */
export type Found = 'mended' | 'fruitless' | Problem;

function isPassing({ code, status }: Problem): boolean {
  return code === NO_ANSWER || status === 429 || (status !== null && status >= 500);
}

async function bisect(context: ClientContext, search: Search, prefix: string): Promise<Found> {
  search.questions += 1;
  if (search.questions > MAX_QUESTIONS) return 'fruitless';
  const answer = await context.transport.verify(search.feed, prefix);
  if (!answer.ok) return isPassing(answer.problem) ? answer.problem : 'fruitless';
  const { buckets, rows } = answer.value;
  if (rows) {
    replaceAll(search, prefix, rows);
    return 'mended';
  }
  dropStrays(search, prefix, buckets);
  for (const bucket of buckets) {
    const here = recount(under(search.records, bucket.prefix));
    if (sameTally(here, { count: bucket.count, contentHash: bucket.hash })) continue;
    if (digits(bucket.prefix).length <= digits(prefix).length) return 'fruitless';
    const found = await bisect(context, search, bucket.prefix);
    if (found !== 'mended') return found;
  }
  return 'mended';
}

/**
 * Finds the records of a feed that differ from the server's by asking for count and hash of ever longer id prefixes,
 * and replaces those only. The feed may have moved on meanwhile: what the search brings in then is newer than the
 * cursor and comes once more with the next page, which changes nothing.
 */
export async function repair(context: ClientContext, feed: string): Promise<Found> {
  const { store } = context;
  const search: Search = { feed, records: await store.recordsOfFeed(feed), changes: [], questions: 0 };
  const found = await bisect(context, search, '');
  if (found === 'mended') await context.exclusive(() => store.commit(search.changes));
  return found;
}
