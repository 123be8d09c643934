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

/** A crew follows the firm, the events in which it has an assignment that stands, and the sites of those events. */
const OF_CREW = `with mine as (
  select distinct a.event from assignment a join device d on d.firm = a.firm and d.crew = a.crew
  where a.firm = $1 and d.id = $2 and not a.voided
)
select 'firm' as feed
union all select 'event:' || event from mine
union all select distinct 'site:' || e.site from event e join mine on mine.event = e.id where e.firm = $1`;

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
  const query = { name: 'crew-feeds', text: WITH_TAIL(OF_CREW), values: [tx.firm, device] };
  return (await tx.client.query<FeedSummary>(query)).rows;
}
