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

// Set by set rather than visit by visit: on small tables the planner would read them whole for each visit.
const TEXT = `with mine as (
  select v.* from unnest($2::uuid[]) as e(id) join visit v on v.firm = $1 and v.event = e.id and not v.voided
), latest as (
  select distinct on (p.visit) p.visit, p.id, p.began from mine
  join purge p on p.firm = $1 and p.visit = mine.id and not p.voided
  order by p.visit, p.began desc, p.id desc
), taken as (
  select s.visit, count(*) as samples, min(s.collected) as first from mine
  join sample s on s.firm = $1 and s.visit = mine.id and not s.voided
  group by s.visit
)
select v.id, v.event, v.well, w.name as "wellName", v.crew, c.name as "crewName", v.method, v.arrived, v."left",
  v.outcome, v.outcome_reason as "outcomeReason", p.id as purge, p.began, a.stable, a.first_held_at as "firstHeldAt",
  coalesce(t.samples, 0) as samples, t.first as "firstSampleAt"
from mine v
join well w on w.firm = $1 and w.id = v.well
join crew c on c.firm = $1 and c.id = v.crew
left join latest p on p.visit = v.id
left join assessment a on a.firm = $1 and a.purge = p.id and not a.voided
left join taken t on t.visit = v.id
order by v.event, v.arrived, v.id`;

/** The visits of these events that count, in the order of arrival. */
export async function visitRows(tx: ReadTx, events: readonly string[]): Promise<VisitRow[]> {
  const { rows } = await tx.client.query<VisitRow>({ name: 'status-visits', text: TEXT, values: [tx.firm, events] });
  return rows;
}
