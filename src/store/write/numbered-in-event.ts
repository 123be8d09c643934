import type { RecordState } from '../../protocol/record.ts';
import { uuidArray } from './array-parameter.ts';
import type { WriteTx } from './transaction.ts';

/** A sample or a blank as it is stored, with the event and for a sample the visit that it is of. */
export interface StoredNumbered {
  readonly event: string;
  readonly visit: string | null;
  /** Its visit was voided. */
  readonly isVoid: boolean;
  readonly state: RecordState;
}

/**
 * The samples and blanks of these events that have one of these numbers, or all of them, voided ones left out: also those
 * of visits that were voided. Samples with a number are found by it, in whichever event, and those elsewhere left out;
 * without numbers it goes from the event to its visits and from each to its samples.
 */
export async function numberedInEvents(
  tx: WriteTx,
  events: readonly string[],
  numbers: readonly string[] | null,
): Promise<StoredNumbered[]> {
  const { rows } = await tx.client.query<StoredNumbered>({
    name: 'numbered-in-events',
    text: `select n.event, n.visit, n.is_void as "isVoid", l.state from (
  select v.event, s.id, s.visit, v.voided as is_void from unnest($3::text[]) as w(number) cross join lateral (
    select id, visit from sample where firm = $1 and number = w.number and not voided offset 0
  ) s cross join lateral (
    select event, voided from visit where firm = $1 and id = s.visit offset 0
  ) v where v.event = any($2::uuid[])
  union all
  select e.id, s.id, s.visit, v.voided from unnest($2::uuid[]) as e(id) cross join lateral (
    select id, voided from visit where firm = $1 and event = e.id offset 0
  ) v cross join lateral (
    select id, visit from sample where firm = $1 and visit = v.id and not voided offset 0
  ) s where $3::text[] is null
  union all
  select e.id, b.id, null, false from unnest($2::uuid[]) as e(id) cross join lateral (
    select id, number, voided from blank where firm = $1 and event = e.id offset 0
  ) b where not b.voided and ($3::text[] is null or b.number = any($3))
) n
cross join lateral (select feed, seq from head where firm = $1 and id = n.id and not gone offset 0) h
cross join lateral (select state from ledger where firm = $1 and feed = h.feed and seq = h.seq offset 0) l`,
    values: [tx.firm, uuidArray(events), numbers],
  });
  return rows;
}
