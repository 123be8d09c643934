import type { HowUsed } from '../../../protocol/kinds/unit-use.ts';
import type { LastResult } from '../../well-order/well-level.ts';
import type { EquipmentPlan } from '../equipment-plan.ts';
import type { PartChangeRecord, PartRecord, ServiceRecord, UnitRecord, WellRecord } from '../equipment-records.ts';

/** "10:05" of the day of the case, or "05-05 10:05". */
type Time = string;

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
      readonly client?: string;
      readonly doubtMin?: number;
    }
  | ({ readonly does: 'part'; readonly unit: string; readonly part: string; readonly at: Time } & Pick<
      PartChangeRecord['fields'],
      'action' | 'well'
    >)
  | ({ readonly does: 'service'; readonly unit: string; readonly at: Time } & Pick<
      ServiceRecord['fields'],
      'type' | 'dueNext' | 'result'
    >)
  /** Drive gas came with the water, in the visit then under way. */
  | { readonly does: 'gas'; readonly at: Time }
  /** A rinsate; `found` is a figure in µg/L, null for nothing detected, missing while no result is here. */
  | { readonly does: 'rinsate'; readonly unit: string; readonly at: Time; readonly found?: string | null };

export interface EquipmentVectorGiven {
  /** What is not given is that of a shared submersible pump that the firm owns. */
  readonly units: Readonly<Record<string, Partial<UnitRecord['fields']>>>;
  readonly wells?: Readonly<Record<string, Pick<WellRecord['fields'], 'contaminants' | 'assignedClass'>>>;
  /** Last results of wells before this round. */
  readonly lastResults?: Readonly<Record<string, readonly LastResult[]>>;
  readonly parts?: Readonly<Record<string, Partial<PartRecord['fields']>>>;
  readonly deeds: readonly VectorDeed[];
  readonly plan?: EquipmentPlan;
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
