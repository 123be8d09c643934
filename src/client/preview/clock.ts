import type { StampedClock } from '../../protocol/record.ts';
import type { StoredRecord } from '../store.ts';

/** How far the clock of a device is off, as the server measured it. */
export type MeasuredClock = Pick<StampedClock, 'differenceMs' | 'uncertaintyMs'>;

/** What the server measured when the newest of the pulled records of this device reached it; null where it never did. */
export function clockHere(rows: readonly StoredRecord[], client: string): MeasuredClock | null {
  let newest: StampedClock | null = null;
  for (const { record } of rows) {
    const { clock } = record;
    if (record.client !== client || clock === null) continue;
    if (newest === null || clock.sequence > newest.sequence) newest = clock;
  }
  return newest && { differenceMs: newest.differenceMs, uncertaintyMs: newest.uncertaintyMs };
}
