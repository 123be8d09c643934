import type { RecordState } from '../../protocol/record.ts';
import type { ReadTx } from './transaction.ts';

export interface Part {
  readonly top: number;
  readonly skip: number;
}

export interface LevelRow {
  readonly state: RecordState;
  readonly well: string;
}

const WELLS = `from well w
join head h on h.firm = w.firm and h.id = w.id and not h.gone and ($2::text[] is null or h.feed = any($2))
where w.firm = $1 and not w.voided`;

/** Of one well, or of all: those at a visit that stands. */
const LEVELS = `from visit v
join water_level o on o.firm = v.firm and o.visit = v.id and not o.voided
join head h on h.firm = o.firm and h.id = o.id and not h.gone and ($2::text[] is null or h.feed = any($2))
where v.firm = $1 and not v.voided and ($3::uuid is null or v.well = $3)`;

/**
 * Wells that the reader may see, in the order of their ids.
 *
 * @param feeds null for every feed of the firm
 */
export async function thingWells(
  tx: ReadTx,
  feeds: readonly string[] | null,
  { top, skip }: Part,
): Promise<RecordState[]> {
  const { rows } = await tx.client.query<{ state: RecordState }>({
    name: 'thing-wells',
    text: `select l.state from (select h.feed, h.seq, w.id ${WELLS} order by w.id limit $3 offset $4) t
join ledger l on l.firm = $1 and l.feed = t.feed and l.seq = t.seq order by t.id`,
    values: [tx.firm, feeds, top, skip],
  });
  return rows.map(({ state }) => state);
}

export async function countThingWells(tx: ReadTx, feeds: readonly string[] | null): Promise<number> {
  const { rows } = await tx.client.query<{ count: number }>({
    name: 'count-thing-wells',
    text: `select count(*)::int as count ${WELLS}`,
    values: [tx.firm, feeds],
  });
  return rows[0]?.count ?? 0;
}

/**
 * Water levels that the reader may see, as they were observed, each with its well.
 *
 * @param feeds null for every feed of the firm
 * @param well null for every well
 */
export async function thingLevels(
  tx: ReadTx,
  feeds: readonly string[] | null,
  well: string | null,
  { top, skip }: Part,
): Promise<LevelRow[]> {
  const { rows } = await tx.client.query<LevelRow>({
    name: 'thing-levels',
    text: `select l.state, t.well from (
  select h.feed, h.seq, o.id, o.observed_at, v.well ${LEVELS} order by o.observed_at, o.id limit $4 offset $5
) t
join ledger l on l.firm = $1 and l.feed = t.feed and l.seq = t.seq order by t.observed_at, t.id`,
    values: [tx.firm, feeds, well, top, skip],
  });
  return rows;
}

export async function countThingLevels(
  tx: ReadTx,
  feeds: readonly string[] | null,
  well: string | null,
): Promise<number> {
  const { rows } = await tx.client.query<{ count: number }>({
    name: 'count-thing-levels',
    text: `select count(*)::int as count ${LEVELS}`,
    values: [tx.firm, feeds, well],
  });
  return rows[0]?.count ?? 0;
}

/** The measuring points of these wells that stand. */
export async function pointsOfWells(tx: ReadTx, wells: readonly string[]): Promise<RecordState[]> {
  const { rows } = await tx.client.query<{ state: RecordState }>({
    name: 'points-of-wells',
    text: `select l.state from measuring_point p
join head h on h.firm = p.firm and h.id = p.id and not h.gone
join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where p.firm = $1 and p.well = any($2) and not p.voided order by p.id`,
    values: [tx.firm, wells],
  });
  return rows.map(({ state }) => state);
}
