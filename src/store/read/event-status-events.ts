import type { ReadTx } from './transaction.ts';

/** An event with its site; dates as planned. */
export interface EventRow {
  readonly id: string;
  readonly name: string;
  readonly standing: string;
  readonly starts: string;
  readonly ends: string;
  readonly site: string;
  readonly siteName: string;
  readonly timeZone: string;
}

/** @param feeds the feeds that the reader may see; null for every feed of the firm */
export async function eventRows(
  tx: ReadTx,
  events: readonly string[],
  feeds: readonly string[] | null,
): Promise<EventRow[]> {
  const { rows } = await tx.client.query<EventRow>({
    name: 'status-events',
    text: `select e.id, e.name, e.standing, e.starts, e.ends, s.id as site, s.name as "siteName",
  s.time_zone as "timeZone"
from unnest($2::uuid[]) as w(id)
join event e on e.firm = $1 and e.id = w.id
join site s on s.firm = e.firm and s.id = e.site
where $3::text[] is null or 'event:' || e.id = any($3)`,
    values: [tx.firm, events, feeds],
  });
  return rows;
}
