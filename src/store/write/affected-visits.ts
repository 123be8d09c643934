import type { WriteTx } from './transaction.ts';

/** What visits are judged by. */
export interface JudgedBy {
  readonly wells: readonly string[];
  /** Nests that a well is in, joins or leaves. */
  readonly nests: readonly string[];
  readonly events: readonly string[];
  readonly units: readonly string[];
}

const AFFECTED = `
select id from visit where firm = $1 and well = any($2::uuid[])
union select v.id from visit v join well w on w.firm = v.firm and w.id = v.well
  where v.firm = $1 and (w.nest = any($3::uuid[])
    or w.nest in (select nest from well where firm = $1 and id = any($2::uuid[])))
union select id from visit where firm = $1 and event = any($4::uuid[])
union select visit from pump_set_up where cardinality($5::uuid[]) > 0 and firm = $1 and (pump = any($5::uuid[]) or flow_cell = any($5::uuid[]))
union select visit from water_level where cardinality($5::uuid[]) > 0 and firm = $1 and tape = any($5::uuid[])
union select visit from sounding where cardinality($5::uuid[]) > 0 and firm = $1 and tape = any($5::uuid[])
union select p.visit from purge p join reading r on r.firm = p.firm and r.purge = p.id
  where cardinality($5::uuid[]) > 0 and p.firm = $1 and r.meter = any($5::uuid[])
union select p.visit from purge p join occurrence o on o.firm = p.firm and o.purge = p.id
  where cardinality($5::uuid[]) > 0 and p.firm = $1 and o.meter = any($5::uuid[])`;

/** The visits whose assessments and flags depend on these wells, on others of their nests, on these events and units. */
export async function affectedVisits(tx: WriteTx, { wells, nests, events, units }: JudgedBy): Promise<string[]> {
  if (wells.length + nests.length + events.length + units.length === 0) return [];
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'affected-visits',
    text: AFFECTED,
    values: [tx.firm, wells, nests, events, units],
  });
  return rows.map((row) => row.id);
}
