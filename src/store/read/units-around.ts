import type { ReadTx } from './transaction.ts';

/** These units, and those that a soft part of theirs was on as well. */
export async function unitsSharingParts(tx: ReadTx, units: readonly string[]): Promise<string[]> {
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'units-sharing-parts',
    text: `with u as materialized (select id from unnest($2::uuid[]) as t(id)),
parts as materialized (
  select c.part as id from u cross join lateral (
    select part from part_change where firm = $1 and unit = u.id and not voided offset 0
  ) c
  union select s.part from u
  cross join lateral (select id from decon where firm = $1 and unit = u.id and not voided offset 0) d
  cross join lateral (
    select part from decon_step where firm = $1 and decon = d.id and part is not null and not voided offset 0
  ) s
)
select id from u
union select c.unit from parts p
cross join lateral (select unit from part_change where firm = $1 and part = p.id and not voided offset 0) c
union select d.unit from parts p
cross join lateral (select decon from decon_step where firm = $1 and part = p.id and not voided offset 0) s
cross join lateral (select unit from decon where firm = $1 and id = s.decon and not voided offset 0) d
order by id`,
    values: [tx.firm, units],
  });
  return rows.map(({ id }) => id);
}

/** The units that were at a visit: what was set up, what was read, and what somebody says was there. */
export async function unitsOfVisit(tx: ReadTx, visit: string): Promise<string[]> {
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'units-of-visit',
    text: `select id from (
  select pump as id from pump_set_up where firm = $1 and visit = $2 and not voided
  union select flow_cell from pump_set_up where firm = $1 and visit = $2 and not voided
  union select unit from unit_use where firm = $1 and visit = $2 and not voided
  union select tape from water_level where firm = $1 and visit = $2 and not voided
  union select tape from sounding where firm = $1 and visit = $2 and not voided
  union select r.meter from purge p cross join lateral (
    select distinct meter from reading where firm = $1 and purge = p.id and not voided offset 0
  ) r where p.firm = $1 and p.visit = $2 and not p.voided
) t where id is not null order by id`,
    values: [tx.firm, visit],
  });
  return rows.map(({ id }) => id);
}
