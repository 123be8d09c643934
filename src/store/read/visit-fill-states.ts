import type { RecordState } from '../../protocol/record.ts';
import type { ReadTx } from './transaction.ts';

/**
 * Everything that says which containers are filled at a visit and in which order: its event, its samples with their
 * containers and fills, what is planned at its well with the containers that are labelled for it, its purges with their
 * calls and the last readings that say how fast the water comes, and the analyte suites that all of these name. Each
 * step goes from a record to its own by an index.
 */
export async function visitFillStates(tx: ReadTx, visit: string): Promise<RecordState[]> {
  const { rows } = await tx.client.query<{ state: RecordState }>({
    name: 'visit-fill-states',
    text: `with v as materialized (
  select id, event, well from visit where firm = $1 and id = $2
), s as materialized (
  select id, suites from sample where firm = $1 and visit = $2 and not voided
), p as materialized (
  select n.id, n.suites from v cross join lateral (
    select id, suites, event from planned_sample where firm = $1 and well = v.well and not voided offset 0
  ) n where n.event = v.event
), c as materialized (
  select one.id, one.suite from s cross join lateral (
    select id, suite from container where firm = $1 and sample = s.id and not voided offset 0
  ) one
  union
  select one.id, one.suite from p cross join lateral (
    select id, suite from container where firm = $1 and planned = p.id and not voided offset 0
  ) one
), u as materialized (
  select id from purge where firm = $1 and visit = $2 and not voided
), names(name) as (
  select suite from c where suite is not null union select unnest(suites) from s union select unnest(suites) from p
), ids(id) as (
  select event from v union select id from s union select id from p union select id from c union select id from u
  union select one.id from c cross join lateral (
    select id from fill where firm = $1 and container = c.id and not voided offset 0
  ) one
  union select one.id from u cross join lateral (
    select id from call where firm = $1 and purge = u.id and not voided offset 0
  ) one
  union select one.id from u cross join lateral (
    select id from reading where firm = $1 and purge = u.id and not voided and flow_ml_per_min is not null
    order by observed_at desc, id desc limit 1
  ) one
  union select one.id from names cross join lateral (
    select id from analyte_suite where firm = $1 and name = names.name and not voided offset 0
  ) one
)
select l.state from ids
cross join lateral (select feed, seq from head where firm = $1 and id = ids.id and not gone offset 0) h
cross join lateral (select state from ledger where firm = $1 and feed = h.feed and seq = h.seq offset 0) l`,
    values: [tx.firm, visit],
  });
  return rows.map(({ state }) => state);
}
