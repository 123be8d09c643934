import type { ContaminantClass } from '../../catalog/decon/decon-protocol.ts';
import type { CalibrationPlan } from '../../protocol/calibration-plan.ts';
import type { FieldsOf } from '../../protocol/kind.ts';
import type { BLANK_TYPES } from '../../protocol/kinds/blank.ts';
import type { calibrationCheck } from '../../protocol/kinds/calibration-check.ts';
import type { RESULT_CONDITIONS } from '../../protocol/kinds/laboratory-result.ts';
import type { PartType } from '../../protocol/kinds/part.ts';
import type { PART_ACTIONS } from '../../protocol/kinds/part-change.ts';
import type { READING_QUANTITY_NAMES } from '../../protocol/kinds/reading.ts';
import type { UNIT_SHARING, UNIT_TYPES } from '../../protocol/kinds/unit.ts';
import type { SERVICE_TYPES } from '../../protocol/kinds/unit-service.ts';
import type { HowUsed } from '../../protocol/kinds/unit-use.ts';
import type { WellClass } from '../../protocol/kinds/well.ts';
import type { Observed, RecordState } from '../../protocol/record.ts';
import type { EquipmentPlan } from './equipment-plan.ts';

type Maybe<Value> = Value | null | undefined;

/** What is asked of any record here; every record of that kind on the wire has it. */
export type Recorded<Fields> = Pick<
  RecordState<Fields>,
  'id' | 'kind' | 'rev' | 'voided' | 'client' | 'clock' | 'fields'
>;

/** Of an observation, what places it in time. */
export type Seen = Pick<Observed, 'at' | 'captured'>;

export type UnitType = (typeof UNIT_TYPES)[number];

export type UnitRecord = Recorded<{
  readonly type: UnitType;
  readonly label: string;
  readonly use: (typeof UNIT_SHARING)[number];
  readonly dedicatedTo?: Maybe<string>;
  readonly ownership: 'owned' | 'rented';
  readonly wettedParts?: Maybe<readonly { readonly part: string; readonly material: string }[]>;
  readonly maximumPressurePsi?: Maybe<string>;
  readonly maximumDepthFt?: Maybe<string>;
}>;

export type EventRecord = Recorded<{
  readonly plan?: { readonly equipment?: Maybe<EquipmentPlan>; readonly calibration?: Maybe<CalibrationPlan> };
}>;

export type WellRecord = Recorded<{
  readonly name: string;
  readonly contaminants?: Maybe<readonly ContaminantClass[]>;
  readonly assignedClass?: Maybe<WellClass>;
}>;

export type VisitRecord = Recorded<{
  readonly event: string;
  readonly well: string;
  readonly crew: string;
  readonly arrived: string;
  readonly left?: Maybe<string>;
}>;

export type SetUpRecord = Recorded<{
  readonly visit: string;
  readonly pump: string;
  readonly flowCell?: Maybe<string>;
  readonly bladderMaterial?: Maybe<string>;
  readonly tubingMaterial?: Maybe<string>;
  readonly intakeDepthFt?: Maybe<string>;
  readonly drivePressurePsi?: Maybe<string>;
  readonly observed: Seen;
}>;

export type PurgeRecord = Recorded<{ readonly visit: string }>;

export type MeterReadingRecord = Recorded<
  { readonly purge: string; readonly meter?: Maybe<string>; readonly observed: Seen } & {
    readonly [Name in Exclude<(typeof READING_QUANTITY_NAMES)[number], 'depthToWaterFt'>]?: string | undefined;
  } & { readonly overRange?: (typeof READING_QUANTITY_NAMES)[number][] | undefined }
>;

/** One standard read with one sensor of a meter. */
export type CheckRecord = Recorded<
  Omit<FieldsOf<typeof calibrationCheck>, 'observed' | 'remark'> & { readonly observed: Seen }
>;

/** What happened during a purge; only what tells of the equipment is looked at. */
export type OccurrenceRecord = Recorded<{
  readonly purge: string;
  readonly type: string;
  readonly toCrew?: Maybe<string>;
  readonly observed: Seen;
}>;

/** A water level or a sounding: both name the tape that went down. */
export type TapeRecord = Recorded<{ readonly visit: string; readonly tape?: Maybe<string>; readonly observed: Seen }>;

export type UnitUseRecord = Recorded<{
  readonly visit: string;
  readonly unit: string;
  readonly how: HowUsed;
  readonly from: string;
  readonly until?: Maybe<string>;
  readonly observed: Seen;
}>;

export type SampleRecord = Recorded<{
  readonly visit: string;
  readonly number: string;
  readonly suites: readonly string[];
  readonly collected: string;
}>;

export type SignOutRecord = Recorded<{
  readonly unit: string;
  readonly crew: string;
  readonly from: string;
  readonly until?: Maybe<string>;
  readonly observed: Seen;
}>;

export type ServiceRecord = Recorded<{
  readonly unit: string;
  readonly type: (typeof SERVICE_TYPES)[number];
  readonly result?: Maybe<'pass' | 'fail'>;
  readonly dueNext?: Maybe<string>;
  readonly correctionFt?: Maybe<string>;
  readonly observed: Seen;
}>;

export type DeconRecord = Recorded<{
  readonly unit: string;
  readonly protocol: string;
  readonly event?: Maybe<string>;
  readonly against?: Maybe<readonly ContaminantClass[]>;
  readonly began: string;
  readonly ended?: Maybe<string>;
  readonly wasteTo?: Maybe<string>;
  readonly labelText?: Maybe<string>;
  readonly observed: Seen;
}>;

export type DeconStepRecord = Recorded<{
  readonly decon: string;
  readonly step: string;
  readonly done: boolean;
  readonly fluid?: Maybe<string>;
  readonly lot?: Maybe<string>;
  readonly deviation?: Maybe<string>;
  readonly part?: Maybe<string>;
  readonly observed: Seen;
}>;

export type PartRecord = Recorded<{
  readonly type: PartType;
  readonly label?: Maybe<string>;
  readonly lot?: Maybe<string>;
  readonly material?: Maybe<string>;
  readonly dedicatedTo?: Maybe<string>;
}>;

export type PartChangeRecord = Recorded<{
  readonly unit: string;
  readonly part: string;
  readonly action: (typeof PART_ACTIONS)[number];
  readonly well?: Maybe<string>;
  readonly observed: Seen;
}>;

export type BlankRecord = Recorded<{
  readonly event?: Maybe<string>;
  readonly type: (typeof BLANK_TYPES)[number];
  readonly number: string;
  readonly unit?: Maybe<string>;
  readonly decon?: Maybe<string>;
  readonly collected: string;
  readonly suites: readonly string[];
}>;

export type ResultRecord = Recorded<{
  readonly sample?: Maybe<string>;
  readonly blank?: Maybe<string>;
  readonly casNumber?: Maybe<string>;
  readonly analyte: string;
  readonly value?: Maybe<string>;
  readonly unit: string;
  readonly reportingLimit?: Maybe<string>;
  readonly condition: (typeof RESULT_CONDITIONS)[number];
}>;

/** Everything that says where units were and what they touched, in any order. Voided records may be among them. */
export interface EquipmentRecords {
  readonly units: readonly UnitRecord[];
  readonly wells: readonly WellRecord[];
  /** With their plans. */
  readonly events?: readonly EventRecord[];
  readonly visits: readonly VisitRecord[];
  readonly setUps?: readonly SetUpRecord[];
  readonly purges?: readonly PurgeRecord[];
  readonly readings?: readonly MeterReadingRecord[];
  readonly checks?: readonly CheckRecord[];
  readonly occurrences?: readonly OccurrenceRecord[];
  /** Water levels and soundings. */
  readonly tapeRecords?: readonly TapeRecord[];
  readonly uses?: readonly UnitUseRecord[];
  readonly samples?: readonly SampleRecord[];
  readonly signOuts?: readonly SignOutRecord[];
  readonly services?: readonly ServiceRecord[];
  readonly decons?: readonly DeconRecord[];
  readonly deconSteps?: readonly DeconStepRecord[];
  readonly parts?: readonly PartRecord[];
  readonly partChanges?: readonly PartChangeRecord[];
  readonly blanks?: readonly BlankRecord[];
  readonly results?: readonly ResultRecord[];
}
