import type { RecordState } from '../../protocol/record.ts';
import type { Intent } from '../../rules/merge/apply-intent.ts';
import type { ReadTx } from './transaction.ts';

/** A row of the ledger, whole. */
export interface LedgerEntry {
  readonly feed: string;
  readonly seq: number;
  readonly record: string;
  readonly kind: string;
  readonly rev: number;
  /** The text of the record byte for byte; null where it left the feed. */
  readonly text: string | null;
  readonly intent: Intent | null;
  readonly liveCount: number;
  readonly contentHash: Buffer;
  readonly historyHash: Buffer;
}

/** A change of a record, wherever it lived then. */
export interface RecordChange {
  readonly record: string;
  readonly state: RecordState;
  readonly intent: Intent | null;
}

/** What the newest state of a record is known by, beside the ledger. */
export interface HeadEntry {
  readonly id: string;
  readonly kind: string;
  readonly seq: number;
  readonly rev: number;
  readonly gone: boolean;
  readonly parent: string | null;
  readonly visit: string | null;
  readonly rowHash: Buffer | null;
  readonly merge: unknown;
}

/** Every feed of the firm that has a row, found by hopping from one to the next along the key. */
export async function feedNames(tx: ReadTx): Promise<string[]> {
  const { rows } = await tx.client.query<{ feed: string }>({
    name: 'feed-names',
    text: `with recursive hop(feed) as (
  (select feed from ledger where firm = $1 order by feed limit 1)
  union all
  select (select l.feed from ledger l where l.firm = $1 and l.feed > hop.feed order by l.feed limit 1)
  from hop where hop.feed is not null
)
select feed from hop where feed is not null`,
    values: [tx.firm],
  });
  return rows.map((row) => row.feed);
}

/** Where a feed stood when an epoch began. */
export interface Anchor {
  readonly epoch: string;
  readonly feed: string;
  readonly tail: number;
  readonly historyHash: Buffer;
}

/** Where the feeds of the firm stood when each epoch began that took over data. */
export async function anchorsOf(tx: ReadTx): Promise<Anchor[]> {
  const { rows } = await tx.client.query<Anchor>({
    name: 'epoch-anchors',
    text: `select epoch, feed, tail, history_hash as "historyHash" from epoch_anchor where firm = $1
order by feed, tail, epoch`,
    values: [tx.firm],
  });
  return rows;
}

/** The history of a feed from after a place on. */
export async function ledgerRows(tx: ReadTx, feed: string, after: number, limit: number): Promise<LedgerEntry[]> {
  const { rows } = await tx.client.query<LedgerEntry>({
    name: 'ledger-rows',
    text: `select feed, seq, record, kind, rev, state::text as text, intent, live_count as "liveCount",
  content_hash as "contentHash", history_hash as "historyHash"
from ledger where firm = $1 and feed = $2 and seq > $3 order by seq limit $4`,
    values: [tx.firm, feed, after, limit],
  });
  return rows;
}

/** Every change of these records, each record's in the order of its revisions. */
export async function changesOf(tx: ReadTx, records: readonly string[]): Promise<RecordChange[]> {
  const { rows } = await tx.client.query<RecordChange>({
    name: 'changes-of-records',
    text: `select l.record, l.state, l.intent from unnest($2::uuid[]) as wanted(id)
cross join lateral (
  select record, rev, state, intent from ledger where firm = $1 and record = wanted.id and state is not null offset 0
) l order by l.record, l.rev`,
    values: [tx.firm, records],
  });
  return rows;
}

export async function headsOf(tx: ReadTx, feed: string): Promise<HeadEntry[]> {
  const { rows } = await tx.client.query<HeadEntry>({
    name: 'heads-of-feed',
    text: `select id, kind, seq, rev, gone, parent, visit, row_hash as "rowHash", merge
from head where firm = $1 and feed = $2 order by id`,
    values: [tx.firm, feed],
  });
  return rows;
}

export interface ClockDayEntry {
  readonly device: string;
  readonly day: string;
  readonly leastMs: number;
  readonly mostMs: number;
}

/** What was kept of the days on which a device's clock was off. */
export async function clockDaysOf(tx: ReadTx): Promise<ClockDayEntry[]> {
  const { rows } = await tx.client.query<ClockDayEntry>({
    name: 'clock-days',
    text: `select device, day, least_ms as "leastMs", most_ms as "mostMs" from device_clock where firm = $1
order by device, day`,
    values: [tx.firm],
  });
  return rows;
}
