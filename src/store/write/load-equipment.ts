import type { RecordState } from '../../protocol/record.ts';
import { UNIT_RECORD_KEYS, UNITS_AROUND } from '../unit-neighbourhood.ts';
import { uuidArray } from './array-parameter.ts';
import type { WriteTx } from './transaction.ts';

/** Records on which units depend, of each kind their ids. */
export interface UnitSeeds {
  readonly units: readonly string[];
  readonly parts: readonly string[];
  /** Wells that are named otherwise, or say otherwise how contaminated they are. */
  readonly wells: readonly string[];
  /** Wells with other results. */
  readonly sampled: readonly string[];
  readonly events: readonly string[];
  readonly retyped: readonly string[];
  readonly visits: readonly string[];
}

export interface UnitNear {
  readonly unit: string;
  /** How many shared parts away. */
  readonly depth: number;
}

/** The units that depend on what is stored under these ids, and those that shared parts with them. */
export async function unitsAround(tx: WriteTx, seeds: UnitSeeds): Promise<UnitNear[]> {
  const { units, parts, wells, sampled, events, retyped, visits } = seeds;
  const ids = [units, parts, wells, sampled, events, retyped, visits].map(uuidArray);
  const { rows } = await tx.client.query<UnitNear>({
    name: 'units-around',
    text: UNITS_AROUND,
    values: [tx.firm, ...ids],
  });
  return rows;
}

const ID_DIGITS = 32;
const KEY_DIGITS = 48;

/** An id as 32 hexadecimal digits, with its dashes. */
function dashed(digits: string): string {
  return digits.slice(0, ID_DIGITS).replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5');
}

function keysOf(keys: Buffer | null): string[] {
  const text = keys?.toString('hex') ?? '';
  return Array.from({ length: text.length / KEY_DIGITS }, (_, at) =>
    text.slice(at * KEY_DIGITS, (at + 1) * KEY_DIGITS),
  );
}

async function statesOfKeys(tx: WriteTx, keys: readonly string[]): Promise<RecordState[]> {
  const { rows } = await tx.client.query<{ state: RecordState }>({
    name: 'states-by-id',
    text: `select l.state from unnest($2::uuid[]) as wanted(id)
cross join lateral (select feed, seq from head where firm = $1 and not gone and id = wanted.id offset 0) h
cross join lateral (select state from ledger where firm = $1 and feed = h.feed and seq = h.seq offset 0) l`,
    values: [tx.firm, uuidArray(keys.map(dashed))],
  });
  const byId = new Map(keys.map((key) => [dashed(key), key]));
  const states = rows.map(({ state }) => state);
  for (const state of states) tx.memory.states.put(byId.get(state.id) ?? '', state);
  return states;
}

/**
 * The records by which these units are judged, as they are stored. Those that the process has are not read again.
 *
 * @param touched records that are changed in this transaction, and what they name
 * @param wells named anew in it
 */
export async function unitRecords(
  tx: WriteTx,
  units: readonly string[],
  touched: readonly string[],
  wells: readonly string[],
): Promise<RecordState[]> {
  const values = [tx.firm, ...[units, touched, wells].map(uuidArray)];
  const query = { name: 'unit-record-keys', text: UNIT_RECORD_KEYS, values };
  const { rows } = await tx.client.query<{ keys: Buffer | null }>(query);
  const known: RecordState[] = [];
  const unknown: string[] = [];
  for (const key of keysOf(rows[0]?.keys ?? null)) {
    const state = tx.memory.states.get(key);
    if (state) known.push(state);
    else unknown.push(key);
  }
  return unknown.length === 0 ? known : [...known, ...(await statesOfKeys(tx, unknown))];
}
