import { LOW_YIELD_STEPS, type LowYieldStep } from '../../catalog/well/low-yield-steps.ts';
import { RECOVERY_RULES } from '../../catalog/well/recovery-rules.ts';
import { compareText, differenceText } from '../../science/units/decimal-arithmetic.ts';
import type { RecoveringWell, RecoveryMeaning } from './recovery-facts.ts';
import { type RecoveryNext, recoveryNext, shareReached } from './recovery-next.ts';

export const LOW_YIELD_SITUATIONS = ['purged-dry', 'drawdown-grows', 'neither', 'not-known'] as const;
export type LowYieldSituation = (typeof LOW_YIELD_SITUATIONS)[number];

export interface LowYieldWell extends RecoveringWell {
  readonly purgedDry?: boolean | undefined;
  /** Whether the level keeps falling at the lowest rate that the pump gives. */
  readonly drawdownGrowing?: boolean | undefined;
  readonly screenTopFt?: string | undefined;
}

/** What a rule says next, with the rule. */
export interface RuleNext extends RecoveryNext {
  readonly id: string;
  readonly wording: string;
  readonly source: string;
  readonly verified: boolean;
}

export function situationOf({ purgedDry, drawdownGrowing }: LowYieldWell): LowYieldSituation {
  if (purgedDry) return 'purged-dry';
  if (drawdownGrowing) return 'drawdown-grows';
  return purgedDry === false && drawdownGrowing === false ? 'neither' : 'not-known';
}

/** What each published rule on recovery says next; none while the pump still runs in a well that is not dry. */
export function rulesNext(well: LowYieldWell, meaning: RecoveryMeaning | undefined): RuleNext[] {
  if (!well.purgedDry && well.sinceStoppedH === undefined) return [];
  return RECOVERY_RULES.map((rule) => {
    const { id, wording, source, verified } = rule;
    return { id, ...recoveryNext({ rule, well, meaning }), wording, source, verified };
  });
}

/** What documents say to do and not to do in this situation. */
export function stepsAt(situation: LowYieldSituation): LowYieldStep[] {
  if (situation === 'neither' || situation === 'not-known') return [];
  return LOW_YIELD_STEPS.filter(({ at }) => at === 'both' || at === situation);
}

const LOW_YIELD_PERCENT = '70';
const LOW_YIELD_AFTER_H = '1';

/**
 * Whether it is a well of low yield: less than 70 % back after 1 h. Null before, and where the share cannot be told.
 *
 * Source: county file, doc 611862, page 25, which does not say of what the 70 % are.
 */
export function isLowYield(well: LowYieldWell, meaning: RecoveryMeaning | undefined): boolean | null {
  const reached = shareReached(well, meaning, LOW_YIELD_PERCENT);
  if (reached !== false) return reached === null ? null : false;
  const { sinceStoppedH } = well;
  return sinceStoppedH !== undefined && compareText(sinceStoppedH, LOW_YIELD_AFTER_H) >= 0 ? true : null;
}

/** That water comes back down the screen, where the levels say so. */
export function cascade({ screenTopFt, lowestDepthToWaterFt, depthToWaterFt }: LowYieldWell): string[] {
  const deepestFt = lowestDepthToWaterFt ?? depthToWaterFt;
  if (screenTopFt === undefined || deepestFt === undefined || compareText(deepestFt, screenTopFt) <= 0) return [];
  const below = differenceText(deepestFt, screenTopFt);
  return [`The water was drawn ${below} ft below the top of the screen: what comes back runs down inside it.`];
}
