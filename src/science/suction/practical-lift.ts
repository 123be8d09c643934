import { type Refusal, refuse } from '../refusal.ts';

/** One line of a published table of practical lift. */
export interface PracticalLift {
  readonly altitudeFt: number;
  readonly liftFt: number;
}

/**
 * The practical lift of a table at an altitude: that of the next line at or above it, so that nothing is read between
 * the lines that the table does not say. Below its first line the first line counts, for air is no thinner there.
 *
 * Source: the table that is given; taking the next line up is our own, careful reading. Limits: up to its last line.
 *
 * @param rows by rising altitude
 * @example practicalLift(PRACTICAL_SUCTION_LIFT, 5_000) // { altitudeFt: 5280, liftFt: 17 }
 */
export function practicalLift(rows: readonly PracticalLift[], altitudeFt: number): PracticalLift | Refusal {
  const row = rows.find((one) => one.altitudeFt >= altitudeFt);
  if (row !== undefined) return row;
  return refuse(
    `The table of practical lift ends at ${rows.at(-1)?.altitudeFt ?? 'no line'} ft and says nothing of ${altitudeFt} ft: use a pump that pushes.`,
  );
}
