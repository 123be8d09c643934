import { uuidArray } from './array-parameter.ts';
import type { WriteTx } from './transaction.ts';

/** Records that coolers are judged by, of each kind their ids. */
export interface CoolerSeeds {
  readonly samples: readonly string[];
  readonly blanks: readonly string[];
  readonly planned: readonly string[];
  readonly events: readonly string[];
  readonly sites: readonly string[];
}

/** The coolers that hold a container of one of these, or belong to an event of one of these; as they are stored. */
export async function coolersAround(tx: WriteTx, seeds: CoolerSeeds): Promise<string[]> {
  const { samples, blanks, planned, events, sites } = seeds;
  const { rows } = await tx.client.query<{ cooler: string }>({
    name: 'coolers-around',
    text: `select distinct cooler from (
  select c.cooler from unnest($2::uuid[]) as wanted(id)
  cross join lateral (select cooler from container where firm = $1 and sample = wanted.id offset 0) c
  union all
  select c.cooler from unnest($3::uuid[]) as wanted(id)
  cross join lateral (select cooler from container where firm = $1 and blank = wanted.id offset 0) c
  union all
  select c.cooler from unnest($4::uuid[]) as wanted(id)
  cross join lateral (select id from sample where firm = $1 and planned = wanted.id offset 0) s
  cross join lateral (select cooler from container where firm = $1 and sample = s.id offset 0) c
  union all
  select c.cooler from unnest($4::uuid[]) as wanted(id)
  cross join lateral (select id from blank where firm = $1 and planned = wanted.id offset 0) b
  cross join lateral (select cooler from container where firm = $1 and blank = b.id offset 0) c
  union all
  select c.cooler from unnest($4::uuid[]) as wanted(id)
  cross join lateral (select cooler from container where firm = $1 and planned = wanted.id offset 0) c
  union all
  select c.id from unnest($5::uuid[]) as wanted(id)
  cross join lateral (select id from cooler where firm = $1 and event = wanted.id offset 0) c
  union all
  select c.id from unnest($6::uuid[]) as wanted(id)
  cross join lateral (select id from event where firm = $1 and site = wanted.id offset 0) e
  cross join lateral (select id from cooler where firm = $1 and event = e.id offset 0) c
) near where cooler is not null`,
    values: [tx.firm, ...[samples, blanks, planned, events, sites].map(uuidArray)],
  });
  return rows.map(({ cooler }) => cooler);
}
