import type { FieldsOf } from '../../protocol/kind.ts';
import type { measuringPoint } from '../../protocol/kinds/measuring-point.ts';
import type { visitSummary } from '../../protocol/kinds/visit-summary.ts';
import type { RecordState } from '../../protocol/record.ts';
import { instantMs } from '../../science/instant-ms.ts';

export type VisitSummary = FieldsOf<typeof visitSummary>;
export type MeasuringPoint = RecordState<FieldsOf<typeof measuringPoint>>;

/** So many visits of a well are looked at, the newest: forty years of monthly rounds would be more, and a query of a phone. */
export const MOST_VISITS = 400;

/** What is known of a well's earlier rounds, whether it was read from a database or from a phone. */
export interface WellRecords {
  /** Newest first. */
  readonly summaries: readonly VisitSummary[];
  /** Those that stand. */
  readonly points: readonly MeasuringPoint[];
}

/** Newest arrival first; equal ones by id, so that a phone and a server list them alike. */
function newestFirst(a: RecordState<VisitSummary>, b: RecordState<VisitSummary>): number {
  return instantMs(b.fields.arrived) - instantMs(a.fields.arrived) || (a.id < b.id ? 1 : -1);
}

/**
 * @param summaries records of the kind visit-summary, in any order
 * @param points records of the kind measuring-point, in any order
 */
export function wellRecords(
  well: string,
  summaries: readonly RecordState[],
  points: readonly RecordState[],
): WellRecords {
  const here = (state: RecordState) => state.fields.well === well && state.voided === null;
  const own = summaries.filter(here) as unknown as RecordState<VisitSummary>[];
  return {
    summaries: own
      .toSorted(newestFirst)
      .slice(0, MOST_VISITS)
      .map(({ fields }) => fields),
    points: points.filter(here) as unknown as MeasuringPoint[],
  };
}
