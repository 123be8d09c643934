import type { HeadRow } from '../../../src/store/write/head-row.ts';
import { parsed } from './parsed.ts';
import type { Statements } from './statement.ts';
import { placeKey, type Tables } from './tables.ts';
import { textsIn } from './wire-array.ts';

const NO_HASH = Buffer.alloc(8);
const NO_HISTORY = Buffer.alloc(32);

function summary(tables: Tables, feed: string): object {
  const tail = tables.tails.get(feed);
  const contentHash = tail?.contentHash ?? NO_HASH;
  return { feed, tail: tail?.seq ?? 0, count: tail?.liveCount ?? 0, contentHash };
}

function summaries(tables: Tables, feeds: Iterable<string>): object[] {
  return [...new Set(feeds)].sort().map((feed) => summary(tables, feed));
}

/** What the crew of a device follows, from the typed tables as the server asks them. */
function feedsOfDevice(tables: Tables, device: string | null): string[] {
  const crew = tables.typedOf('device').get(device ?? '')?.crew;
  const rows = [...tables.typedOf('assignment').values()];
  const standing = rows.filter(
    (row) => row.voided !== true && crew !== undefined && crew !== null && row.crew === crew,
  );
  const events = [...new Set(standing.map(({ event }) => String(event)))];
  const sites = events.flatMap((event) => {
    const site = tables.typedOf('event').get(event)?.site;
    return site === undefined || site === null ? [] : [`site:${site}`];
  });
  return ['firm', ...events.map((event) => `event:${event}`), ...sites];
}

function allFeeds(tables: Tables): string[] {
  const of = (table: string) => [...tables.typedOf(table).keys()].map((id) => `${table}:${id}`);
  return ['firm', ...of('site'), ...of('event')];
}

function headsOf(tables: Tables, feed: string): HeadRow[] {
  return [...tables.heads.values()].filter((head) => head.feed === feed);
}

function rowText(tables: Tables, { feed, seq, kind, id }: HeadRow): string {
  const state = tables.ledger.get(placeKey(feed, seq))?.state ?? null;
  if (state !== null) return `{"seq":${seq},"record":${state}}`;
  return `{"seq":${seq},"gone":{"kind":${JSON.stringify(kind)},"id":"${id}"}}`;
}

/** Of what is gone, only what went after a place. */
function page(tables: Tables, [, feed, after, limit, begun = 0]: readonly unknown[]): readonly object[] {
  const fits = (head: HeadRow) => head.seq > Number(after) && (!head.gone || head.seq > Number(begun));
  return pageOf(tables, String(feed), fits, Number(limit));
}

/** The first heads of a feed that fit, as a page carries them. */
export function pageOf(
  tables: Tables,
  name: string,
  fits: (head: HeadRow) => boolean,
  limit: number,
): readonly object[] {
  const fitting = headsOf(tables, name).filter(fits);
  const heads = fitting.sort((a, b) => a.seq - b.seq).slice(0, limit);
  const last = heads.at(-1)?.seq ?? null;
  const history = last === null ? null : (tables.ledger.get(placeKey(name, last))?.historyHash ?? null);
  const text = heads.length === 0 ? null : heads.map((head) => rowText(tables, head)).join(',');
  return [{ count: heads.length, last, text, history }];
}

function hexOf(id: string): string {
  return id.replaceAll('-', '');
}

function within(tables: Tables, feed: unknown, prefix: unknown): HeadRow[] {
  return headsOf(tables, String(feed)).filter((head) => !head.gone && hexOf(head.id).startsWith(String(prefix)));
}

function buckets(tables: Tables, [, feed, prefix]: readonly unknown[]): readonly object[] {
  const heads = within(tables, feed, prefix);
  const hexes = heads.map(({ id }) => hexOf(id)).sort();
  const [low = '', high = ''] = [hexes[0], hexes.at(-1)];
  let depth = 1;
  while (depth < 32 && low.slice(0, depth) === high.slice(0, depth)) depth++;
  const found = new Map<string, { count: number; hash: bigint }>();
  for (const { id, rowHash } of heads) {
    const at = low === high ? hexOf(id) : hexOf(id).slice(0, depth);
    const known = found.get(at) ?? { count: 0, hash: 0n };
    const hash = known.hash ^ BigInt(`0x${rowHash?.toString('hex') ?? '0'}`);
    found.set(at, { count: known.count + 1, hash });
  }
  const sorted = [...found].sort(([a], [b]) => (a < b ? -1 : 1));
  return sorted.map(([at, { count, hash }]) => ({ prefix: at, count, hash: hash.toString(16).padStart(16, '0') }));
}

function feedTail(tables: Tables, [, feed, at]: readonly unknown[]): readonly object[] {
  const { epoch, cursorKey } = tables.installation;
  const tail = tables.tails.get(String(feed));
  const historyAt = tables.ledger.get(placeKey(String(feed), Number(at)))?.historyHash ?? null;
  const historyHash = tail?.historyHash ?? NO_HISTORY;
  const floor = tables.floors.get(String(feed)) ?? 0;
  return [{ epoch, cursorKey, ...summary(tables, String(feed)), historyHash, historyAt, floor }];
}

function ledgerOf(tables: Tables, feed: string) {
  const tail = tables.tails.get(feed)?.seq ?? 0;
  return Array.from({ length: tail }, (_, index) => tables.ledger.get(placeKey(feed, index + 1))).filter(
    (row) => row !== undefined,
  );
}

function ledgerRows(tables: Tables, [, feed, after, limit]: readonly unknown[]): readonly object[] {
  const rows = ledgerOf(tables, String(feed)).filter((row) => row.seq > Number(after));
  return rows.slice(0, Number(limit)).map((row) => {
    return { ...row, text: row.state, intent: row.intent === null ? null : parsed(row.intent) };
  });
}

function changesOf(tables: Tables, [, ids]: readonly unknown[]): readonly object[] {
  const wanted = new Set(textsIn(ids));
  const rows = [...tables.ledger.values()].filter(({ record, state }) => state !== null && wanted.has(record));
  return rows
    .sort((a, b) => (a.record === b.record ? a.rev - b.rev : a.record < b.record ? -1 : 1))
    .map(({ record, state, intent }) => {
      return { record, state: parsed(state ?? ''), intent: intent === null ? null : parsed(intent) };
    });
}

/** What phones ask, and what a verification of the firm reads. */
export const READ_STATEMENTS: Statements = {
  'client-standing': (tables, [, client]) => {
    const id = String(client ?? '');
    const { lastMutation = 0, durable = 0 } = tables.clients.get(id) ?? {};
    return [{ epoch: tables.installation.epoch, lastMutation, durable }];
  },
  'all-feeds': (tables) => summaries(tables, allFeeds(tables)),
  'crew-feeds': (tables, [, devices]) =>
    summaries(tables, feedsOfDevice(tables, (devices as (string | null)[])[0] ?? null)),
  'feed-tail': feedTail,
  'feed-rows': page,
  'feed-live-rows': page,
  'feed-buckets': buckets,
  'feed-rows-within': (tables, [, feed, prefix]) =>
    within(tables, feed, prefix)
      .sort((a, b) => a.seq - b.seq)
      .map((head) => ({ ...head, state: tables.ledger.get(placeKey(head.feed, head.seq))?.state ?? null })),
  'feed-names': (tables) => [...tables.tails.keys()].sort().map((feed) => ({ feed })),
  'ledger-rows': ledgerRows,
  'changes-of-records': changesOf,
  'heads-of-feed': (tables, [, feed]) =>
    headsOf(tables, String(feed))
      .sort((a, b) => (a.id < b.id ? -1 : 1))
      .map((head) => ({ ...head, merge: head.merge === null ? null : parsed(head.merge) })),
  'feeds-with-gone': (tables) => {
    const gone = [...tables.heads.values()].filter((head) => head.gone).map(({ feed }) => feed);
    return [...new Set(gone)].sort().map((feed) => ({ feed }));
  },
  'feed-floor': (tables, [, feed]) => {
    const floor = tables.floors.get(String(feed));
    return floor === undefined ? [] : [{ floor }];
  },
  'epoch-anchors': () => [],
  'clock-days': (tables) => [...tables.clockDays.values()],
};
