import { PRACTICAL_SUCTION_LIFT } from '../../catalog/pumps/practical-suction-lift.ts';
import { SET_UP_RULES } from '../../catalog/pumps/set-up-rules.ts';
import { isRefusal, type Refusal } from '../../science/refusal.ts';
import { suctionLiftOfPhysicsFt } from '../../science/suction/lift-of-physics.ts';
import { practicalLift } from '../../science/suction/practical-lift.ts';
import { type SuctionLimit, suctionWithin } from '../../science/suction/suction-limits.ts';
import { sumText } from '../../science/units/decimal-arithmetic.ts';
import { placesText } from '../../science/units/significant-text.ts';
import type { PlanInput } from './plan-input.ts';
import { type PlanPart, planPart } from './plan-part.ts';
import { practicalSource } from './plan-sources.ts';

export interface SuctionFields {
  /** From the pumping level to the head of a suction pump. */
  readonly suctionLiftFt: string;
  readonly suctionServes: boolean;
  readonly suctionLeast: SuctionLimit['by'];
  readonly suctionLimits: readonly { by: SuctionLimit['by']; limitFt: string; passes: boolean; source: string }[];
}

const SOURCE: Readonly<Record<SuctionLimit['by'], string>> = {
  'common-practice': SET_UP_RULES.suctionBelowFt.source,
  'practical-table': practicalSource,
  physics: 'hydrostatics, with the vapour pressure of the water and the pressure of the air at the station, computed',
  plan: 'the plan, or the jurisdiction that it follows',
};

/** What practice allows: the figure of the plan, or else common practice and the table, where the table reaches. */
function ofPractice(given: PlanInput): { readonly limits: SuctionLimit[]; readonly beyondTable: string[] } {
  const { suctionLiftFt: ofPlan } = given;
  if (ofPlan !== undefined) return { limits: [{ by: 'plan', limitFt: ofPlan, atLimit: 'beyond' }], beyondTable: [] };
  const limits: SuctionLimit[] = [
    { by: 'common-practice', limitFt: SET_UP_RULES.suctionBelowFt.value, atLimit: 'beyond' },
  ];
  const row = practicalLift(PRACTICAL_SUCTION_LIFT.lines, Number(given.altitudeFt));
  if (isRefusal(row)) return { limits, beyondTable: [row.refused] };
  return {
    limits: [...limits, { by: 'practical-table', limitFt: String(row.liftFt), atLimit: 'within' }],
    beyondTable: [],
  };
}

/** Cut, not rounded: a figure above the true one would let a lift pass that boils. */
function ofPhysics(liftFt: number): SuctionLimit {
  return { by: 'physics', limitFt: placesText(Math.floor(liftFt * 10) / 10, 1), atLimit: 'beyond' };
}

/**
 * Whether suction serves, from the pumping level. Above the last line of the table no practice is known, and suction is
 * not proposed, unless the plan sets its own figure.
 */
export function suctionPart(given: PlanInput, stationMmHg: number): PlanPart<SuctionFields> | Refusal {
  const { limits, beyondTable } = ofPractice(given);
  const headFt = given.pumpHeadAboveMeasuringPointFt;
  const liftFt = sumText(given.pumpingDepthToWaterFt, headFt ?? '0');
  const physics = suctionLiftOfPhysicsFt(stationMmHg, Number(given.waterTemperatureC));
  const answer = isRefusal(physics) ? physics : suctionWithin(liftFt, [...limits, ofPhysics(physics)]);
  if (isRefusal(answer)) return answer;
  const { least } = answer;
  const serves = answer.serves && beyondTable.length === 0;
  return planPart(
    {
      suctionLiftFt: liftFt,
      suctionServes: serves,
      suctionLeast: least.by,
      suctionLimits: answer.limits.map(({ by, limitFt, passes }) => ({ by, limitFt, passes, source: SOURCE[by] })),
    },
    {
      reasons: [
        `A suction pump would have to lift ${liftFt} ft from the pumping level; the least limit is ${least.limitFt} ft (${SOURCE[least.by]}).`,
        ...beyondTable,
      ],
      cautions:
        headFt === undefined
          ? [
              'The head of a suction pump is counted at the measuring point: every foot above it is a foot of lift more.',
            ]
          : [],
    },
  );
}
