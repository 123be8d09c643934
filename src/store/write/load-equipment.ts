import type { RecordState } from '../../protocol/record.ts';
import { UNIT_RECORDS, UNITS_AROUND } from '../unit-neighbourhood.ts';
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

/** A record without what is needed to change it. */
export interface PlacedState {
  readonly feed: string;
  readonly parent: string | null;
  readonly visit: string | null;
  readonly state: RecordState;
}

/**
 * The records by which these units are judged, as they are stored.
 *
 * @param touched records that are changed in this transaction, and what they name
 * @param wells named anew in it
 */
export async function unitRecords(
  tx: WriteTx,
  units: readonly string[],
  touched: readonly string[],
  wells: readonly string[],
): Promise<PlacedState[]> {
  const values = [tx.firm, ...[units, touched, wells].map(uuidArray)];
  const { rows } = await tx.client.query<PlacedState>({ name: 'unit-records', text: UNIT_RECORDS, values });
  return rows;
}
