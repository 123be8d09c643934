import type { ReadTx } from './transaction.ts';

/** What is looked for of a well, and in which typed table: observations of its visits, or summaries of those that ended. */
const OBSERVED = {
  level: `water_level o where o.state = 'measured' and o.depth_to_water_ft is not null
    and o.purpose in ('synoptic', 'before-purge')`,
  bottom: 'sounding o where o.depth_to_bottom_ft is not null',
  // where an intake hangs that was moved, nobody knows until a new set-up says so
  intake: `pump_set_up o where o.intake_depth_ft is not null and not exists (
    select 1 from purge p join occurrence c on c.firm = p.firm and c.purge = p.id
    where p.firm = o.firm and p.visit = o.visit and not p.voided and not c.voided
      and c.type = 'intake-moved' and c.observed_at > o.observed_at)`,
} as const;

export type LatestOf = keyof typeof OBSERVED;

export interface LatestRow {
  readonly id: string;
}

/**
 * The latest observation of its kind at a well that the reader may see, by when it was observed.
 *
 * @param feeds null for every feed of the firm
 */
export async function latestAtWell(
  tx: ReadTx,
  of: LatestOf,
  well: string,
  feeds: readonly string[] | null,
): Promise<string | null> {
  const { rows } = await tx.client.query<LatestRow>({
    name: `latest-${of}-at-well`,
    text: `select o.id
from visit v
cross join lateral (
  select o.id, o.observed_at from ${OBSERVED[of]} and o.firm = v.firm and o.visit = v.id and not o.voided
  order by o.observed_at desc limit 20 offset 0
) o
join head h on h.firm = $1 and h.id = o.id and not h.gone and ($3::text[] is null or h.feed = any($3))
where v.firm = $1 and v.well = $2 and not v.voided
order by o.observed_at desc, o.id desc limit 1`,
    values: [tx.firm, well, feeds],
  });
  return rows[0]?.id ?? null;
}

/** The summaries of the visits to a well that ended, the latest first. */
export async function summariesOfWell(tx: ReadTx, well: string): Promise<string[]> {
  const { rows } = await tx.client.query<LatestRow>({
    name: 'summaries-of-well',
    text: `select s.id from visit_summary s where s.firm = $1 and s.well = $2 and not s.voided
order by s.arrived desc, s.id desc limit 10`,
    values: [tx.firm, well],
  });
  return rows.map(({ id }) => id);
}

/** The measuring points of a well that still count. */
export async function pointsOfWell(tx: ReadTx, well: string): Promise<string[]> {
  const { rows } = await tx.client.query<LatestRow>({
    name: 'points-of-well',
    text: 'select id from measuring_point where firm = $1 and well = $2 and not voided order by valid_from, id',
    values: [tx.firm, well],
  });
  return rows.map(({ id }) => id);
}
