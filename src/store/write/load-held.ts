import type { RecordState } from '../../protocol/record.ts';
import type { Held } from '../../rules/held.ts';
import type { MergeMemory } from '../../rules/merge/merge-memory.ts';
import type { WriteTx } from './transaction.ts';

/** A stored record with the hash of its row, which the content hash of its feed is made of. */
export interface StoredHeld extends Held {
  readonly rowHash: Buffer;
}

interface Row {
  readonly feed: string;
  readonly parent: string | null;
  readonly visit: string | null;
  readonly row_hash: Buffer;
  readonly merge: MergeMemory | null;
  readonly state: RecordState;
}

const SELECT = `select h.feed, h.parent, h.visit, h.row_hash, h.merge, l.state
from head h join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq`;

function held(row: Row): StoredHeld {
  const { feed, parent, visit, merge, state } = row;
  return { state, feed, parent, visit, memory: merge, rowHash: row.row_hash };
}

async function select(tx: WriteTx, name: string, where: string, ...values: unknown[]): Promise<StoredHeld[]> {
  const text = `${SELECT} ${where}`;
  const { rows } = await tx.client.query<Row>({ name: `held-${name}`, text, values: [tx.firm, ...values] });
  return rows.map(held);
}

// Joined to unnest: `id = any($2)` planned on a table never analysed would scan the whole of it.

export function heldById(tx: WriteTx, ids: readonly string[]): Promise<StoredHeld[]> {
  return select(
    tx,
    'by-id',
    'join unnest($2::uuid[]) as wanted(id) on h.firm = $1 and h.id = wanted.id and not h.gone',
    ids,
  );
}

/** Everything that belongs to these visits, the visits among it. */
export function heldOfVisits(tx: WriteTx, visits: readonly string[]): Promise<StoredHeld[]> {
  return select(
    tx,
    'of-visits',
    'join unnest($2::uuid[]) as wanted(id) on h.firm = $1 and h.visit = wanted.id and not h.gone',
    visits,
  );
}

export function heldUnder(tx: WriteTx, parents: readonly string[], kinds: readonly string[]): Promise<StoredHeld[]> {
  return select(
    tx,
    'under',
    `join unnest($2::uuid[]) as wanted(id) on h.firm = $1 and h.parent = wanted.id and not h.gone
where h.kind = any($3::text[])`,
    parents,
    kinds,
  );
}

export function wellsOfNests(tx: WriteTx, nests: readonly string[]): Promise<StoredHeld[]> {
  return select(
    tx,
    'nest-wells',
    `join well w on w.firm = h.firm and w.id = h.id
where h.firm = $1 and not h.gone and w.nest = any($2::uuid[])`,
    nests,
  );
}

/** The claims of these wells: pairs of event and well at the same place of both lists. */
export function claimsOfWells(tx: WriteTx, events: readonly string[], wells: readonly string[]): Promise<StoredHeld[]> {
  return select(
    tx,
    'well-claims',
    `join well_claim c on c.firm = h.firm and c.id = h.id
join unnest($2::uuid[], $3::uuid[]) as wanted(event, well) on c.event = wanted.event and c.well = wanted.well
where h.firm = $1 and not h.gone`,
    events,
    wells,
  );
}

export function signOutsOfUnits(tx: WriteTx, units: readonly string[]): Promise<StoredHeld[]> {
  return select(
    tx,
    'sign-outs',
    `join sign_out s on s.firm = h.firm and s.id = h.id
join unnest($2::uuid[]) as wanted(unit) on s.unit = wanted.unit
where h.firm = $1 and not h.gone`,
    units,
  );
}
