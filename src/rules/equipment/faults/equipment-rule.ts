import type { PartType } from '../../../protocol/kinds/part.ts';
import type { FlagRuleEntry } from '../../flags/flag-rule.ts';
import type { Finding } from '../../flags/raised-flag.ts';
import type { WellRank } from '../../well-order/well-rank.ts';
import type { EquipmentIndex } from '../equipment-index.ts';
import type { JudgeByBlank } from '../judged-sample.ts';
import type { EquipmentVector } from './equipment-vector.ts';
import type { WellEntry } from './well-entry.ts';

/** What the plan of the event says of equipment. */
export interface EquipmentPlan {
  /** Missing: the plan asks for none. */
  readonly rinsatePer?: 'unit-and-day' | null | undefined;
  readonly dirtierFactor?: string | null | undefined;
  /** Types of soft parts that are renewed between wells, besides those of the protocols used. */
  readonly partsRenewed?: readonly PartType[] | null | undefined;
  /** Types of parts whose lots are written down. */
  readonly partLotsRequired?: readonly string[] | null | undefined;
}

export interface EquipmentFacts {
  readonly index: EquipmentIndex;
  readonly entries: readonly WellEntry[];
  readonly plan: EquipmentPlan;
  /** Whether the day, "2026-05-04", is over for the crews: until then they can still mend it. */
  readonly isDayClosed: (day: string) => boolean;
  /** How contaminated a well was by its last results before this round; undefined where nothing is known of it. */
  readonly rankOf: (well: string) => WellRank | undefined;
  /** The rule of the blank. */
  readonly judge: JudgeByBlank;
}

export interface EquipmentFault extends Finding {
  /** The visit at which it can be mended, or was found; none for what concerns a day or the office. */
  readonly visit?: string;
  /** What tells it from another fault of the same rule and subject: a unit, a part, a day. */
  readonly of: string;
  /** The clocks leave it open. */
  readonly isPossible?: boolean;
}

export interface EquipmentRule extends FlagRuleEntry {
  evaluate(facts: EquipmentFacts): readonly EquipmentFault[];
  /** Cases with their outcome; a test replays each. */
  readonly vectors: readonly EquipmentVector[];
}
