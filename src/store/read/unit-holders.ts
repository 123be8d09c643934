import type { ReadTx } from './transaction.ts';

/** A crew that has a unit: it signed it out and has not brought it back. */
export interface UnitHolder {
  readonly unit: string;
  readonly signOut: string;
  readonly crew: string;
  readonly crewName: string;
  /** In UTC. */
  readonly from: string;
}

/** Who has these units now; two crews where both say so, the latest first. */
export async function unitHolders(tx: ReadTx, units: readonly string[]): Promise<UnitHolder[]> {
  const { rows } = await tx.client.query<UnitHolder>({
    name: 'unit-holders',
    text: `select s.unit, s.id as "signOut", s.crew, c.name as "crewName", s."from"
from unnest($2::uuid[]) as t(id)
cross join lateral (
  select id, unit, crew, "from" from sign_out
  where firm = $1 and unit = t.id and "until" is null and not voided offset 0
) s
join crew c on c.firm = $1 and c.id = s.crew
order by s."from" desc, s.id`,
    values: [tx.firm, units],
  });
  return rows;
}

export interface UnitRow {
  readonly id: string;
  readonly label: string;
  readonly type: string;
  readonly use: string;
}

/** A part of the units that count, by their ids; those of an event alone where one is named. */
export async function unitsPage(
  tx: ReadTx,
  { event, after, limit }: { readonly event: string | null; readonly after: string | null; readonly limit: number },
): Promise<UnitRow[]> {
  const { rows } = await tx.client.query<UnitRow>({
    name: 'units-page',
    text: `select u.id, u.label, u.type, u.use from unit u
where u.firm = $1 and not u.voided and ($3::uuid is null or u.id > $3) and ($2::uuid is null
  or exists (select 1 from sign_out s where s.firm = $1 and s.unit = u.id and s.event = $2 and not s.voided)
  or exists (select 1 from pump_set_up p join visit v on v.firm = p.firm and v.id = p.visit
    where p.firm = $1 and (p.pump = u.id or p.flow_cell = u.id) and v.event = $2 and not p.voided and not v.voided)
  or exists (select 1 from unit_use n join visit v on v.firm = n.firm and v.id = n.visit
    where n.firm = $1 and n.unit = u.id and v.event = $2 and not n.voided and not v.voided))
order by u.id limit $4`,
    values: [tx.firm, event, after, limit],
  });
  return rows;
}
