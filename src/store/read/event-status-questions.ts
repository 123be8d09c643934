import type { ReadTx } from './transaction.ts';

/** How many raised flags of a well have this addressee and severity. */
export interface FlagCountRow {
  readonly event: string;
  readonly well: string;
  readonly addressee: string;
  readonly severity: string;
  readonly count: number;
}

/** The flags of an event are those of its visits; what is about equipment or a device is no event's alone. */
export async function flagCountRows(tx: ReadTx, events: readonly string[]): Promise<FlagCountRow[]> {
  const { rows } = await tx.client.query<FlagCountRow>({
    name: 'status-flags',
    text: `select v.event, v.well, f.addressee, f.severity, count(*) as count
from unnest($2::uuid[]) as e(id)
join visit v on v.firm = $1 and v.event = e.id
join flag f on f.firm = $1 and f.visit = v.id and f.standing = 'raised' and not f.voided
group by v.event, v.well, f.addressee, f.severity`,
    values: [tx.firm, events],
  });
  return rows;
}

export interface ConflictCountRow {
  readonly event: string;
  readonly type: string;
  readonly certainty: string;
  readonly count: number;
}

/** Conflicts are few: from the open ones of the firm to those whose record lives in the feed of an event. */
export async function conflictCountRows(tx: ReadTx, events: readonly string[]): Promise<ConflictCountRow[]> {
  const { rows } = await tx.client.query<ConflictCountRow>({
    name: 'status-conflicts',
    text: `select e.id as event, k.type, k.certainty, count(*) as count
from conflict k
join head h on h.firm = $1 and h.id = k.id and not h.gone
join unnest($2::uuid[]) as e(id) on h.feed = 'event:' || e.id
where k.firm = $1 and k.standing = 'open' and not k.voided
group by e.id, k.type, k.certainty`,
    values: [tx.firm, events],
  });
  return rows;
}
