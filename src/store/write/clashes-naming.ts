import type { WriteTx } from './transaction.ts';

const NAMING = `
select distinct s.id from conflict c
  join well_claim s on s.firm = c.firm and s.id = c.subject
  join well_claim o on o.firm = s.firm and o.event = s.event and o.well = s.well
  where c.firm = $1 and c.type = 'well-claim' and not c.voided
    and (o.crew = any($2::uuid[]) or o.pump = any($2::uuid[]) or o.well = any($2::uuid[]))
union select distinct s.id from conflict c
  join sign_out s on s.firm = c.firm and s.id = c.subject
  join sign_out o on o.firm = s.firm and o.unit = s.unit
  where c.firm = $1 and c.type = 'sign-out' and not c.voided and (o.crew = any($2::uuid[]) or o.unit = any($2::uuid[]))`;

/** The claims beside which a clash stands whose sentence may name one of these crews, wells and units. */
export async function clashesNaming(tx: WriteTx, ids: readonly string[]): Promise<string[]> {
  if (ids.length === 0) return [];
  const query = { name: 'clashes-naming', text: NAMING, values: [tx.firm, ids] };
  return (await tx.client.query<{ id: string }>(query)).rows.map((row) => row.id);
}
