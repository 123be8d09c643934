import type { ZodType } from 'zod';
import type { EventPlan } from '../../protocol/event-plan.ts';
import type { FieldsOf } from '../../protocol/kind.ts';
import type { call } from '../../protocol/kinds/call.ts';
import type { occurrence } from '../../protocol/kinds/occurrence.ts';
import type { pumpSetUp } from '../../protocol/kinds/pump-set-up.ts';
import type { purge } from '../../protocol/kinds/purge.ts';
import type { reading } from '../../protocol/kinds/reading.ts';
import type { unit } from '../../protocol/kinds/unit.ts';
import type { visit } from '../../protocol/kinds/visit.ts';
import type { waterLevel } from '../../protocol/kinds/water-level.ts';
import type { well } from '../../protocol/kinds/well.ts';
import type { RecordState } from '../../protocol/record.ts';

type Of<Kind extends { fields: ZodType }> = RecordState<FieldsOf<Kind>>;

export type ReadingRecord = Of<typeof reading>;
export type OccurrenceRecord = Of<typeof occurrence>;
export type LevelRecord = Of<typeof waterLevel>;
export type SetUpRecord = Of<typeof pumpSetUp>;
export type CallRecord = Of<typeof call>;
export type UnitRecord = Of<typeof unit>;
export type WellRecord = Of<typeof well>;

/** What an assessment is made from, as it stands now: corrected values, voided records included, in any order. */
export interface AssessmentInput {
  readonly plan: EventPlan;
  readonly purge: Of<typeof purge>;
  readonly visit: Of<typeof visit>;
  /** Null where the well is not known here; then drawdown volumes are not known either. */
  readonly well: WellRecord | null;
  readonly readings: readonly ReadingRecord[];
  readonly occurrences: readonly OccurrenceRecord[];
  readonly calls: readonly CallRecord[];
  /** Of the visit. */
  readonly setUps: readonly SetUpRecord[];
  /** Of the visit. */
  readonly levels: readonly LevelRecord[];
  /** The meters and flow cells that the records name, by id. */
  readonly units: ReadonlyMap<string, UnitRecord>;
}
