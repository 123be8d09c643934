import type { CheckParameter } from '../../../catalog/calibration/check-limit-set.ts';
import type { CalibrationPlan } from '../../../protocol/calibration-plan.ts';
import type { HowUsed } from '../../../protocol/kinds/unit-use.ts';
import type { LastResult } from '../../well-order/well-level.ts';
import type { EquipmentPlan } from '../equipment-plan.ts';
import type { PartChangeRecord, PartRecord, ServiceRecord, UnitRecord, WellRecord } from '../equipment-records.ts';

/** "10:05" of the day of the case, or "05-05 10:05". */
type Time = string;

interface Clocked {
  readonly client?: string;
  readonly doubtMin?: number;
}

/** Something that was done and recorded, in few words. */
export type VectorDeed =
  | {
      readonly does: 'at-well';
      readonly unit: string;
      readonly well: string;
      readonly from: Time;
      /** When the crew left; missing while it is there. */
      readonly until?: Time;
      readonly how?: HowUsed;
      /** Those of a sample; taken as the visit began, unless a time is given. */
      readonly suites?: readonly string[];
      readonly sampled?: Time;
      readonly bladderMaterial?: string;
      readonly tubingMaterial?: string;
      readonly intakeDepthFt?: string;
      readonly drivePressurePsi?: string;
      readonly client?: string;
      /** How far the clock of the phone may be off, in minutes. */
      readonly doubtMin?: number;
    }
  | {
      readonly does: 'decon';
      readonly unit: string;
      readonly from: Time;
      readonly until?: Time;
      readonly isIncomplete?: boolean;
      readonly protocol?: string;
      /** That of its first wet step; missing: no step is recorded. */
      readonly fluid?: string | undefined;
      readonly wasteTo?: string;
      readonly client?: string;
      readonly doubtMin?: number;
    }
  | ({ readonly does: 'part'; readonly unit: string; readonly part: string; readonly at: Time } & Pick<
      PartChangeRecord['fields'],
      'action' | 'well'
    >)
  | ({ readonly does: 'service'; readonly unit: string; readonly at: Time } & Pick<
      ServiceRecord['fields'],
      'type' | 'dueNext' | 'result' | 'correctionFt'
    >)
  | {
      readonly does: 'set-up';
      readonly unit: string;
      readonly at: Time;
      readonly intakeDepthFt?: string;
      readonly drivePressurePsi?: string;
    }
  | { readonly does: 'beside'; readonly unit: string; readonly at: Time }
  /** The visit under way goes on with another crew. */
  | { readonly does: 'hands-over'; readonly at: Time; readonly crew: string }
  | ({
      readonly does: 'signs-out';
      readonly unit: string;
      readonly crew: string;
      readonly from: Time;
      readonly until?: Time;
    } & Clocked)
  /** A meter in a standard; of pH where nothing else is said. */
  | ({
      readonly does: 'check';
      readonly unit: string;
      readonly at: Time;
      readonly parameter?: CheckParameter;
      readonly act?: 'calibrated' | 'checked';
      readonly reading: string;
      readonly standard: string;
      readonly expires?: string;
      readonly lot?: string;
    } & Clocked)
  /** A visit in which a meter was read once. */
  | ({
      readonly does: 'reads';
      readonly unit: string;
      readonly well: string;
      readonly at: Time;
      /** When the crew left; missing while it is there. */
      readonly until?: Time;
      readonly ph?: string | undefined;
      readonly conductance?: string;
      readonly turbidityNtu?: string;
    } & Clocked)
  /** Drive gas came with the water, in the visit then under way. */
  | { readonly does: 'gas'; readonly at: Time }
  /** A rinsate; `found` is a figure in µg/L, null for nothing detected, missing while no result is here. */
  | { readonly does: 'rinsate'; readonly unit: string; readonly at: Time; readonly found?: string | null };

export type Deed<Does extends VectorDeed['does']> = Extract<VectorDeed, { does: Does }>;

export interface EquipmentVectorGiven {
  /** What is not given is that of a shared submersible pump that the firm owns. */
  readonly units: Readonly<Record<string, Partial<UnitRecord['fields']>>>;
  readonly wells?: Readonly<Record<string, Pick<WellRecord['fields'], 'contaminants' | 'assignedClass'>>>;
  /** Last results of wells before this round. */
  readonly lastResults?: Readonly<Record<string, readonly LastResult[]>>;
  readonly parts?: Readonly<Record<string, Partial<PartRecord['fields']>>>;
  readonly deeds: readonly VectorDeed[];
  readonly plan?: EquipmentPlan;
  readonly calibration?: CalibrationPlan;
  /** Days that are over; missing: none. */
  readonly closed?: readonly string[];
}

export interface EquipmentVector {
  readonly name: string;
  readonly given: EquipmentVectorGiven;
  readonly expect: 'raised' | 'silent';
  /** Words that the sentence must have. */
  readonly says?: string;
}
