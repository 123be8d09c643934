import { SET_UP_RULES } from '../../catalog/pumps/set-up-rules.ts';
import { moveSeconds, type PumpCycle } from '../../science/pump/cycle.ts';
import { strokeVolumeMl } from '../../science/pump/stroke-volume.ts';
import { wholeCycleCollection } from '../../science/pump/whole-cycles.ts';
import { isRefusal } from '../../science/refusal.ts';
import { compareText } from '../../science/units/decimal-arithmetic.ts';
import { significantText } from '../../science/units/significant-text.ts';
import type { PlanInput } from './plan-input.ts';
import { type PlanPart, planPart, resultOr } from './plan-part.ts';

export interface CycleFields {
  readonly refillS: string | null;
  readonly dischargeS: string | null;
  readonly cyclesPerMin: number | null;
  readonly strokeMl: number | null;
  /** How long to collect for the mean flow, over whole cycles. */
  readonly collectionS: number | null;
}

const NONE: CycleFields = { refillS: null, dischargeS: null, cyclesPerMin: null, strokeMl: null, collectionS: null };
const COLLECT_AT_LEAST_S = 30;

function moves(cycle: PumpCycle): string[] {
  const written = ({ refillS, dischargeS }: PumpCycle) => `${refillS} s refill and ${dischargeS} s discharge`;
  const [more, less] = [moveSeconds(cycle, '1'), moveSeconds(cycle, '-1')];
  return [
    `Begin with ${written(cycle)}. A coarse change of flow is made by pressure, a fine one by moving seconds within the same cycle.`,
    ...(isRefusal(more) ? [] : [`A little more flow: ${written(more)}.`]),
    ...(isRefusal(less) ? [] : [`A little less: ${written(less)}.`]),
  ];
}

function strokeCautions(strokeMl: number | null, chamberMl: number | null): string[] {
  if (strokeMl === null || chamberMl === null || strokeMl <= chamberMl) return [];
  return [
    `A stroke of ${significantText(strokeMl, 3)} mL is more than the chamber of ${significantText(chamberMl, 3)} mL holds: plan less flow or shorter cycles.`,
  ];
}

function refillCautions(submergenceFt: string): string[] {
  const { value, source } = SET_UP_RULES.slowRefillBelowFt;
  if (compareText(submergenceFt, value) >= 0) return [];
  return [
    `With ${submergenceFt} ft of water over it a bladder fills slowly: give it more seconds of refill (${source}).`,
  ];
}

/** First cycle of a bladder pump, how to move it, and over what to measure the flow. */
export function cyclePart(given: PlanInput, submergenceFt: string, chamberMl: number | null): PlanPart<CycleFields> {
  const cycle = {
    refillS: given.refillS ?? SET_UP_RULES.firstRefillS.value,
    dischargeS: given.dischargeS ?? SET_UP_RULES.firstDischargeS.value,
  };
  const whole = wholeCycleCollection(COLLECT_AT_LEAST_S, cycle);
  if (isRefusal(whole)) return planPart(NONE, { missing: [whole.refused] });
  const { cycles, collectionS } = whole;
  const flow = given.flowMlPerMin;
  const stroke =
    flow === undefined
      ? { value: null, missing: ['The stroke: give flowMlPerMin.'] }
      : resultOr(strokeVolumeMl(Number(flow), cycle));
  return planPart(
    { ...cycle, cyclesPerMin: (60 * cycles) / collectionS, strokeMl: stroke.value, collectionS },
    {
      reasons: [
        ...moves(cycle),
        `Measure the mean flow over whole cycles: collect for ${collectionS} s, from the beginning of one discharge to that of another.`,
      ],
      cautions: [...strokeCautions(stroke.value, chamberMl), ...refillCautions(submergenceFt)],
      missing: stroke.missing,
    },
  );
}
