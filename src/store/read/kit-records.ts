import type { RecordState } from '../../protocol/record.ts';
import type { ReadTx } from './transaction.ts';

/** Checks of the kit that are looked at, the latest. */
const MOST_CHECKS = 50;

/**
 * Everything that says what a crew takes along for a day of an event: its assignments with their wells (where they name none,
 * those of the site that no other crew has), the visits of the event, what is signed out to it around that day, its checks of the kit, and the site.
 */
export async function kitStates(
  tx: ReadTx,
  { event, crew, site, from, until }: Readonly<Record<'event' | 'crew' | 'site' | 'from' | 'until', string>>,
): Promise<RecordState[]> {
  const { rows } = await tx.client.query<{ state: RecordState }>({
    name: 'kit-records',
    text: `with a as materialized (
  select id, well from assignment where firm = $1 and event = $2 and crew = $3 and not voided
), s as materialized (
  select id, unit from sign_out where firm = $1 and crew = $3 and not voided and "from" < $6 and ("until" is null or "until" >= $5)
), unnamed as (
  select w.id from well w
  where w.firm = $1 and w.site = $4 and not w.voided and w.standing is distinct from 'decommissioned'
    and exists (select 1 from a) and not exists (select 1 from a where well is not null)
    and not exists (select 1 from assignment o where o.firm = $1 and o.event = $2 and o.well = w.id and o.crew <> $3 and not o.voided)
    and not exists (select 1 from well_claim c where c.firm = $1 and c.event = $2 and c.well = w.id and c.crew <> $3
      and c."until" is null and not c.voided)
), ids(id) as (
  select id from a union select well from a where well is not null union select id from unnamed union select id from s union select unit from s
  union select id from visit where firm = $1 and event = $2 and not voided
  union (select id from kit_check where firm = $1 and event = $2 and crew = $3 and not voided
    order by observed_at desc, id limit $7)
  union select $4::uuid union select $3::uuid
)
select l.state from ids
cross join lateral (select feed, seq from head where firm = $1 and id = ids.id and not gone offset 0) h
cross join lateral (select state from ledger where firm = $1 and feed = h.feed and seq = h.seq offset 0) l`,
    values: [tx.firm, event, crew, site, from, until, MOST_CHECKS],
  });
  return rows.map(({ state }) => state);
}
