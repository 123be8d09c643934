import type { ReadTx } from './transaction.ts';

/** A visit with its latest purge, what the server makes of it, and the samples taken. Times in UTC. */
export interface VisitRow {
  readonly id: string;
  readonly event: string;
  readonly well: string;
  readonly wellName: string;
  readonly crew: string;
  readonly crewName: string;
  readonly method: string;
  readonly arrived: string;
  readonly left: string | null;
  readonly outcome: string | null;
  readonly outcomeReason: string | null;
  readonly purge: string | null;
  readonly began: string | null;
  /** Null where nothing was assessed. */
  readonly stable: boolean | null;
  readonly firstHeldAt: string | null;
  readonly samples: number;
  readonly firstSampleAt: string | null;
}

/** The visits of these events that count, in the order of arrival. */
export async function visitRows(tx: ReadTx, events: readonly string[]): Promise<VisitRow[]> {
  const { rows } = await tx.client.query<VisitRow>({
    name: 'status-visits',
    text: `select v.id, v.event, v.well, w.name as "wellName", v.crew, c.name as "crewName", v.method, v.arrived, v."left",
  v.outcome, v.outcome_reason as "outcomeReason", p.id as purge, p.began, a.stable, a.first_held_at as "firstHeldAt",
  s.samples, s.first as "firstSampleAt"
from unnest($2::uuid[]) as e(id)
join visit v on v.firm = $1 and v.event = e.id and not v.voided
join well w on w.firm = $1 and w.id = v.well
join crew c on c.firm = $1 and c.id = v.crew
left join lateral (
  select id, began from purge where firm = $1 and visit = v.id and not voided order by began desc, id desc limit 1
) p on true
left join assessment a on a.firm = $1 and a.purge = p.id and not a.voided
left join lateral (
  select count(*) as samples, min(collected) as first from sample where firm = $1 and visit = v.id and not voided
) s on true
order by v.event, v.arrived, v.id`,
    values: [tx.firm, events],
  });
  return rows;
}
