import type { ReadTx } from './transaction.ts';

/** A crew at work in an event, and the well that it is to sample, where one is named. */
export interface AssignmentRow {
  readonly event: string;
  readonly crew: string;
  readonly crewName: string;
  readonly well: string | null;
  readonly wellName: string | null;
  /** Analyte suites are named: samples are expected, not only a level. */
  readonly toSample: boolean;
}

export async function assignmentRows(tx: ReadTx, events: readonly string[]): Promise<AssignmentRow[]> {
  const { rows } = await tx.client.query<AssignmentRow>({
    name: 'status-assignments',
    text: `select a.event, a.crew, c.name as "crewName", a.well, w.name as "wellName",
  coalesce(cardinality(a.suites), 0) > 0 as "toSample"
from unnest($2::uuid[]) as e(id)
join assignment a on a.firm = $1 and a.event = e.id and not a.voided
join crew c on c.firm = $1 and c.id = a.crew
left join well w on w.firm = $1 and w.id = a.well
order by w.name collate "C", w.id, c.name collate "C", c.id`,
    values: [tx.firm, events],
  });
  return rows;
}
