import type { RecordState } from '../../protocol/record.ts';
import type { ReadTx } from './transaction.ts';

/** Of each meter so many checks are looked at, the latest before the end of what is asked about. */
export const MOST_CHECKS = 1_000;

/** The checks of these meters from one time to another, the latest of each, in no particular order. */
export async function checksOfUnits(
  tx: ReadTx,
  units: readonly string[],
  from: string,
  until: string,
): Promise<RecordState[]> {
  const { rows } = await tx.client.query<{ state: RecordState }>({
    name: 'checks-of-units',
    text: `select l.state from unnest($2::uuid[]) as u(id)
cross join lateral (
  select id from calibration_check where firm = $1 and unit = u.id and not voided
  and observed_at between $3 and $4 order by observed_at desc, id limit $5 offset 0
) c
cross join lateral (select feed, seq from head where firm = $1 and id = c.id and not gone offset 0) h
cross join lateral (select state from ledger where firm = $1 and feed = h.feed and seq = h.seq offset 0) l`,
    values: [tx.firm, units, from, until, MOST_CHECKS],
  });
  return rows.map(({ state }) => state);
}

/** What one meter read at one visit: its first and its last reading, and how many say something of each parameter. */
export interface MeterVisitRow {
  readonly visit: string;
  readonly first: string;
  readonly last: string;
  readonly readings: number;
  readonly temperature: number;
  readonly ph: number;
  readonly conductance: number;
  readonly oxygen: number;
  readonly orp: number;
  readonly turbidity: number;
}

/** Of one meter so many visits are told of, the latest. */
export const MOST_METER_VISITS = 200;

/**
 * The visits at which a meter was read from one time to another, the latest first, one more than are told of.
 *
 * @param feeds those that the reader may see; null for all of the firm
 */
export async function meterVisitRows(
  tx: ReadTx,
  unit: string,
  [from, until]: readonly [string, string],
  feeds: readonly string[] | null,
): Promise<MeterVisitRow[]> {
  const { rows } = await tx.client.query<MeterVisitRow>({
    name: 'meter-visits',
    text: `select p.visit, (array_agg(r.id order by r.observed_at, r.id))[1] as first,
  (array_agg(r.id order by r.observed_at desc, r.id desc))[1] as last, count(*)::int as readings,
  count(coalesce(r.temperature_c, r.temperature_f))::int as temperature, count(r.ph)::int as ph,
  count(r.specific_conductance_us_per_cm)::int as conductance,
  count(coalesce(r.dissolved_oxygen_mg_per_l, r.dissolved_oxygen_percent))::int as oxygen,
  count(r.orp_mv)::int as orp, count(coalesce(r.turbidity_ntu, r.turbidity_fnu))::int as turbidity
from (select * from reading where firm = $1 and meter = $2 and not voided and observed_at between $3 and $4 offset 0) r
cross join lateral (select visit from purge where firm = $1 and id = r.purge and not voided offset 0) p
cross join lateral (
  select v.id from visit v join head h on h.firm = v.firm and h.id = v.id and not h.gone
  where v.firm = $1 and v.id = p.visit and not v.voided and ($5::text[] is null or h.feed = any($5)) offset 0
) v
group by p.visit order by max(r.observed_at) desc, p.visit limit $6`,
    values: [tx.firm, unit, from, until, feeds, MOST_METER_VISITS + 1],
  });
  return rows;
}

/**
 * The event for which a unit is at work at some time: that of the sign-out or of the visit that began last before it.
 *
 * @param feeds those that the reader may see; null for all of the firm
 */
export async function eventOfUnit(
  tx: ReadTx,
  unit: string,
  at: string,
  feeds: readonly string[] | null,
): Promise<string | null> {
  const { rows } = await tx.client.query<{ event: string }>({
    name: 'event-of-unit',
    text: `select event from (
  select event, "from" as began from sign_out
  where firm = $1 and unit = $2 and not voided and event is not null and "from" <= $3
  union all
  select v.event, v.arrived from (select distinct purge from reading where firm = $1 and meter = $2 and not voided) r
  cross join lateral (select visit from purge where firm = $1 and id = r.purge and not voided offset 0) p
  cross join lateral (
    select event, arrived from visit where firm = $1 and id = p.visit and not voided and arrived <= $3 offset 0
  ) v
) t where $4::text[] is null or 'event:' || event = any($4) order by began desc, event limit 1`,
    values: [tx.firm, unit, at, feeds],
  });
  return rows[0]?.event ?? null;
}
