import type { Lens } from './lenses/lens.ts';
import { LENSES } from './lenses/lenses.ts';

/**
 * The version of the shapes on the wire. Raised whenever a shape changes, with a line here that says what changed.
 *
 * 1  The first: push, pull, feeds and verify for the kinds of the main path.
 * 2  Options of a plan: volumes, limits after which the crew chooses, upper limits, further tolerances of the drawdown.
 *    Ratings of a unit. Visit summaries beside their well. What an assessment says of limits and volumes. That a record
 *    was written after the assignment of its crew had ended. All of it added.
 * 3  Equipment: parts and their changes, decons with their steps, services and uses of units, calibration and kit checks,
 *    blanks, laboratory results, the state of a unit. The class and the contaminants of a well, disposable units, and
 *    what a plan asks of equipment and of meters. That a flag about equipment names its unit. All of it added.
 *    A base that names a revision says what own work lay over it. A record names who handed in copies of it. A
 *    push says which histories its lines cite, and so does each line of a copy of an outbox. Added.
 *    Samples: laboratories, analyte suites, planned samples, containers and their fills, coolers with seals, hand-overs and
 *    checks, receipts, discrepancies; the type, parent and numbers of a sample or blank; what a plan asks of samples. Added.
 *    A decision of a conflict by a value that nobody gave says `neither`; of an older version a reason is enough. A lens.
 */
export const SCHEMA_VERSION = 3;

/** What phones of an older version push is set aside; they still pull. */
export const MIN_SCHEMA_VERSION = 1;

/** Which versions a reader understands, and how it lifts what older ones wrote to its own. */
export interface Versions {
  readonly own: number;
  readonly minimum: number;
  readonly lenses: readonly Lens[];
}

export const VERSIONS: Versions = { own: SCHEMA_VERSION, minimum: MIN_SCHEMA_VERSION, lenses: LENSES };
