import { INTAKE_RULES } from '../../catalog/well/intake-rules.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { compareText, differenceText, sumText } from '../../science/units/decimal-arithmetic.ts';
import { type IntakeConflict, intakeConflicts } from '../../science/well/intake-conflicts.ts';
import { type IntakeGiven, type IntakePosition, intakePosition } from '../../science/well/intake-position.ts';
import type { PlanInput } from './plan-input.ts';
import { type PlanPart, planPart } from './plan-part.ts';

export interface IntakeFields {
  readonly intakeFt: string;
  readonly intakeConflicts: readonly IntakeConflict[];
  readonly clearFromFt: string | null;
  readonly clearToFt: string | null;
  /** Water over the intake while pumping. */
  readonly submergenceFt: string;
}

/** A recorded depth below the measuring point. */
function belowPoint(depth: string, stickUpFt: string): string {
  return compareText(stickUpFt, '0') === 0 ? depth : sumText(depth, stickUpFt);
}

function hasDepths({ screenTopFt, screenBottomFt, totalDepthFt }: PlanInput): boolean {
  return [screenTopFt, screenBottomFt, totalDepthFt].some((depth) => depth !== undefined);
}

/** The interval to place the intake in, by the level while pumping: the water that will be there. */
function interval(given: PlanInput): { readonly place: IntakeGiven; readonly reasons: string[] } | Refusal {
  if (given.depthsFrom === 'ground' && given.stickUpFt === undefined && hasDepths(given))
    return refuse('The depths of the well are below ground: give stickUpFt, or the depths below the measuring point.');
  const stickUpFt = given.depthsFrom === 'ground' ? (given.stickUpFt ?? '0') : '0';
  const recorded = given.totalDepthFt === undefined ? undefined : belowPoint(given.totalDepthFt, stickUpFt);
  const depthToBottomFt = given.soundedDepthFt ?? recorded;
  if (depthToBottomFt === undefined)
    return refuse('How deep the well is, is not known: give soundedDepthFt, or totalDepthFt of the record.');
  const depthToWaterFt = given.pumpingDepthToWaterFt;
  const bottomClearanceFt = given.bottomClearanceFt ?? INTAKE_RULES.bottomClearanceFt.value;
  const water = { depthToWaterFt, depthToBottomFt, bottomClearanceFt };
  const { screenTopFt: top, screenBottomFt: bottom } = given;
  if (top !== undefined && bottom !== undefined)
    return {
      place: { ...water, screenTopFt: belowPoint(top, stickUpFt), screenBottomFt: belowPoint(bottom, stickUpFt) },
      reasons: [],
    };
  return {
    place: { ...water, screenTopFt: depthToWaterFt, screenBottomFt: depthToBottomFt },
    reasons: ['The screen is not recorded: the whole water column stands for it.'],
  };
}

function chosen(given: PlanInput, place: IntakeGiven, found: IntakePosition): { depthFt: string; because: string } {
  const { plannedIntakeFt: planned, lastIntakeFt: last } = given;
  if (planned !== undefined) return { depthFt: planned, because: `The intake is planned at ${planned} ft.` };
  if (last !== undefined && intakeConflicts({ ...place, saturated: found.saturated }, last).length === 0)
    return { depthFt: last, because: `The intake goes to ${last} ft as at the last event, where it still fits.` };
  return {
    depthFt: found.middleFt,
    because: `The intake goes to ${found.middleFt} ft, the middle of the screen under water while pumping.`,
  };
}

function submergenceCaution(submergenceFt: string): string[] {
  return compareText(submergenceFt, '0') <= 0
    ? [
        `At the pumping level the intake would be ${submergenceFt} ft under water: it would draw air. Less flow, or deeper.`,
      ]
    : [];
}

/** Where the intake goes. A well without water in its screen has no plan: the answer is refused as a whole. */
export function intakePart(given: PlanInput): PlanPart<IntakeFields> | Refusal {
  const { staticDepthToWaterFt: atRest, pumpingDepthToWaterFt: pumping } = given;
  if (compareText(pumping, atRest) < 0)
    return refuse(
      `A pumping level at ${pumping} ft stands above the static one at ${atRest} ft: give the level as it is drawn down.`,
    );
  const where = interval(given);
  if (isRefusal(where)) return where;
  const { place } = where;
  const found = intakePosition(place);
  if (isRefusal(found)) return found;
  const { depthFt, because } = chosen(given, place, found);
  const conflicts = intakeConflicts({ ...place, saturated: found.saturated }, depthFt);
  const submergenceFt = differenceText(depthFt, pumping);
  const none = `No depth clears the bottom by ${place.bottomClearanceFt} ft while pumping: the plan decides.`;
  return planPart(
    {
      intakeFt: depthFt,
      intakeConflicts: conflicts,
      clearFromFt: found.clear?.fromFt ?? null,
      clearToFt: found.clear?.toFt ?? null,
      submergenceFt,
    },
    {
      reasons: [because, ...where.reasons, ...(found.clear === null ? [none] : [])],
      cautions: [...conflicts.map((one) => one.because), ...submergenceCaution(submergenceFt)],
    },
  );
}
