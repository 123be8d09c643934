import type { ReadTx } from './transaction.ts';

/** A well that a crew has taken and not given back. */
export interface ClaimRow {
  readonly event: string;
  readonly well: string;
  readonly wellName: string;
  readonly crew: string;
  readonly crewName: string;
  readonly from: string;
}

export async function openClaimRows(tx: ReadTx, events: readonly string[]): Promise<ClaimRow[]> {
  const { rows } = await tx.client.query<ClaimRow>({
    name: 'status-claims',
    text: `select k.event, k.well, w.name as "wellName", k.crew, c.name as "crewName", k."from"
from unnest($2::uuid[]) as e(id)
join well_claim k on k.firm = $1 and k.event = e.id and k."until" is null and not k.voided
join well w on w.firm = $1 and w.id = k.well
join crew c on c.firm = $1 and c.id = k.crew
where not exists (
  select from well_claim r where r.firm = $1 and r.event = k.event and r.well = k.well and r.handed_over_from = k.id
    and not r.voided
)
order by k."from", k.id`,
    values: [tx.firm, events],
  });
  return rows;
}
