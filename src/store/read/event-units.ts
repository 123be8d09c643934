import type { ReadTx } from './transaction.ts';

/** The units that were at visits of an event in a stretch of time, and those signed out for it that did not come back. */
export async function eventUnits(
  tx: ReadTx,
  { event, from, until }: { readonly event: string; readonly from: string; readonly until: string },
): Promise<string[]> {
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'event-units',
    text: `with v as materialized (
  select id from visit where firm = $1 and event = $2 and arrived >= $3 and arrived < $4 and not voided
)
select t.id from (
  select p.pump as id from v cross join lateral (
    select pump from pump_set_up where firm = $1 and visit = v.id and not voided
    union all select flow_cell from pump_set_up where firm = $1 and visit = v.id and not voided
    union all select unit from unit_use where firm = $1 and visit = v.id and not voided
    union all select tape from water_level where firm = $1 and visit = v.id and not voided
    union all select tape from sounding where firm = $1 and visit = v.id and not voided
    union all select r.meter from (
      select id from purge where firm = $1 and visit = v.id and not voided offset 0
    ) g cross join lateral (select meter from reading where firm = $1 and purge = g.id and not voided offset 0) r
    offset 0
  ) p(pump)
  union select unit from sign_out where firm = $1 and event = $2 and "until" is null and "from" < $4 and not voided
) t join unit u on u.firm = $1 and u.id = t.id and not u.voided
order by t.id`,
    values: [tx.firm, event, from, until],
  });
  return rows.map(({ id }) => id);
}
