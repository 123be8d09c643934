import type { CalibrationPlan } from '../../protocol/calibration-plan.ts';
import type { FieldsOf } from '../../protocol/kind.ts';
import type { assignment } from '../../protocol/kinds/assignment.ts';
import type { kitCheck } from '../../protocol/kinds/kit-check.ts';
import type { site } from '../../protocol/kinds/site.ts';
import type { visit } from '../../protocol/kinds/visit.ts';
import type { EquipmentPlan } from '../equipment/equipment-plan.ts';
import type { UnitRecord } from '../equipment/equipment-records.ts';

interface Kept<Fields> {
  readonly id: string;
  readonly fields: Fields;
}

export type KitCheck = Kept<Omit<FieldsOf<typeof kitCheck>, 'remark'>>;
export type KitWell = Kept<{ readonly name: string; readonly remark?: string | null | undefined }>;

/** Of a visit, when it was left and how it ended. */
export type KitVisit = Kept<Pick<FieldsOf<typeof visit>, 'well' | 'left' | 'method' | 'outcome'>>;

/** What says what a crew needs on a day; voided records are not among it. */
export interface KitRecords {
  readonly event: string;
  readonly crew: string;
  /** "2026-05-04", where the site is. */
  readonly day: string;
  readonly site: Kept<Pick<FieldsOf<typeof site>, 'name' | 'accessNotes'>> | null;
  readonly plan: {
    readonly equipment?: EquipmentPlan | null | undefined;
    readonly calibration?: CalibrationPlan | null | undefined;
  };
  /** Of the crew in this event. */
  readonly assignments: readonly Kept<Pick<FieldsOf<typeof assignment>, 'well' | 'suites'>>[];
  /** Of these assignments; where they name none, those of the site that no other crew has. */
  readonly wells: readonly KitWell[];
  /** Of the event, by any crew. */
  readonly visits: readonly KitVisit[];
  /** Signed out to the crew on that day. */
  readonly units: readonly Pick<UnitRecord, 'id' | 'fields'>[];
  /** Of the crew in this event, on whatever day. */
  readonly checks: readonly KitCheck[];
}
