import type { ReadTx } from './transaction.ts';

export interface FeedSummary {
  readonly feed: string;
  readonly tail: number;
  readonly count: number;
  readonly contentHash: Buffer;
}

const ALL = `select 'firm' as feed
union all select 'site:' || id from site where firm = $1
union all select 'event:' || id from event where firm = $1`;

/**
 * What the crews of devices follow: the firm, the events in which the crew has an assignment that stands, and the sites
 * of those events. The one place that says so; a device that is none follows the firm.
 */
const OF_DEVICES = `with asked as (select unnest($2::uuid[]) as device), mine as (
  select distinct asked.device, a.event from asked
  join device d on d.firm = $1 and d.id = asked.device
  join assignment a on a.firm = d.firm and a.crew = d.crew
  where not a.voided
)
select device, 'firm' as feed from asked
union all select device, 'event:' || event from mine
union all select distinct mine.device, 'site:' || e.site from event e join mine on mine.event = e.id where e.firm = $1`;

const WITH_TAIL = (feeds: string) => `select f.feed, coalesce(t.seq, 0) as tail, coalesce(t.live_count, 0) as count,
  coalesce(t.content_hash, decode('0000000000000000', 'hex')) as "contentHash"
from (${feeds}) f
left join lateral (
  select seq, live_count, content_hash from ledger where firm = $1 and feed = f.feed order by seq desc limit 1
) t on true order by f.feed`;

/** Every feed of the firm, with its tail. */
export async function allFeeds(tx: ReadTx): Promise<FeedSummary[]> {
  const query = { name: 'all-feeds', text: WITH_TAIL(ALL), values: [tx.firm] };
  return (await tx.client.query<FeedSummary>(query)).rows;
}

/** The feeds that the crew of a device follows. */
export async function feedsOfDevice(tx: ReadTx, device: string | null): Promise<FeedSummary[]> {
  const query = { name: 'crew-feeds', text: WITH_TAIL(OF_DEVICES), values: [tx.firm, [device]] };
  return (await tx.client.query<FeedSummary>(query)).rows;
}

/** A feed that the crew of a device follows, and where it ends. */
export interface DeviceFeed {
  readonly device: string | null;
  readonly feed: string;
  readonly tail: number;
}

const WITH_DEVICE = `with followed as materialized (${OF_DEVICES}), ends as materialized (
  select f.feed, coalesce(t.seq, 0) as tail from (select distinct feed from followed) f
  left join lateral (select seq from ledger where firm = $1 and feed = f.feed order by seq desc limit 1) t on true
)
select followed.device, followed.feed, ends.tail from followed join ends using (feed)`;

/** The feeds that the crews of many devices follow, each tail looked up once. */
export async function feedsOfDevices(tx: ReadTx, devices: readonly (string | null)[]): Promise<DeviceFeed[]> {
  const query = { name: 'feeds-of-devices', text: WITH_DEVICE, values: [tx.firm, devices] };
  return (await tx.client.query<DeviceFeed>(query)).rows;
}
