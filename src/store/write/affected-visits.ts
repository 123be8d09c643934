import type { WriteTx } from './transaction.ts';

const AFFECTED = `
select id from visit where firm = $1 and well = any($2::uuid[])
union select v.id from visit v join well w on w.firm = v.firm and w.id = v.well
  where v.firm = $1 and w.nest in (select nest from well where firm = $1 and id = any($2::uuid[]))
union select id from visit where firm = $1 and event = any($3::uuid[])
union select visit from pump_set_up where firm = $1 and (pump = any($4::uuid[]) or flow_cell = any($4::uuid[]))
union select p.visit from purge p join reading r on r.firm = p.firm and r.purge = p.id
  where p.firm = $1 and r.meter = any($4::uuid[])`;

/** The visits whose assessments and flags depend on these wells (or those of the same nest), events and units. */
export async function affectedVisits(
  tx: WriteTx,
  changed: { readonly wells: readonly string[]; readonly events: readonly string[]; readonly units: readonly string[] },
): Promise<string[]> {
  const { wells, events, units } = changed;
  if (wells.length + events.length + units.length === 0) return [];
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'affected-visits',
    text: AFFECTED,
    values: [tx.firm, wells, events, units],
  });
  return rows.map((row) => row.id);
}
