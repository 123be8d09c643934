import type { FlagRuleEntry } from '../../flags/flag-rule.ts';
import type { Addressee, Finding } from '../../flags/raised-flag.ts';
import type { IsDayClosed } from '../closed-days.ts';
import type { EquipmentIndex } from '../equipment-index.ts';
import type { BlankRecord } from '../equipment-records.ts';
import type { JudgeByBlank } from '../judged-sample.ts';
import type { SensorUse } from '../meters/sensor-use.ts';
import type { PlanOf } from '../plans-of.ts';
import type { LevelOf } from '../well-levels.ts';
import type { EquipmentVector } from './equipment-vector.ts';
import type { WellEntry } from './well-entry.ts';

/** Facts of several events: a unit goes from one to the next, and each has its own plan. */
export interface EquipmentFacts {
  readonly index: EquipmentIndex;
  readonly entries: readonly WellEntry[];
  /** Of each meter its sensors, visit by visit, where the plan names limits. */
  readonly sensorUses: ReadonlyMap<string, readonly SensorUse[]>;
  /** The plan of the event that a visit belongs to; nothing is asked where it is not known. */
  readonly planOf: PlanOf;
  /** Until then its crew can still mend it. */
  readonly isDayClosed: IsDayClosed;
  readonly levelOf: LevelOf;
  /** The rule of the blank, as the plan of its event names it. */
  readonly judgeOf: (blank: BlankRecord) => JudgeByBlank;
}

export interface EquipmentFault extends Finding {
  /** The unit whose records tell it; of a part the one that it was on. */
  readonly unit: string;
  /** The visit at which it can be mended, or was found; none for what concerns a day or the office. */
  readonly visit?: string;
  /** What tells it from another fault of the same rule and subject: a unit, a part, a day. */
  readonly of: string;
  /** Of what concerns several visits, whom it is told; else as the rule says and the visit stands. */
  readonly addressee?: Addressee;
  /** The clocks leave it open. */
  readonly isPossible?: boolean;
}

export interface EquipmentRule extends FlagRuleEntry {
  evaluate(facts: EquipmentFacts): readonly EquipmentFault[];
  /** Cases with their outcome; a test replays each. */
  readonly vectors: readonly EquipmentVector[];
}
