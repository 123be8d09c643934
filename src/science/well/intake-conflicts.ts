import { compareText, differenceText, sumText } from '../units/decimal-arithmetic.ts';
import type { SaturatedInterval } from './saturated-interval.ts';

export interface IntakeConflict {
  readonly kind: 'above-water' | 'above-saturated-top' | 'below-interval' | 'below-bottom' | 'near-bottom';
  readonly because: string;
}

export interface IntakeSurroundings {
  readonly saturated: SaturatedInterval;
  readonly depthToWaterFt: string;
  /** As it is now: sounded, for silt raises it. */
  readonly depthToBottomFt: string;
  /** Least distance of the intake from the bottom, in feet, of the plan or its document. */
  readonly bottomClearanceFt: string;
}

function conflict(kind: IntakeConflict['kind'], because: string): IntakeConflict {
  return { kind, because };
}

function above({ saturated, depthToWaterFt }: IntakeSurroundings, intakeFt: string): IntakeConflict[] {
  if (compareText(intakeFt, depthToWaterFt) < 0)
    return [
      conflict(
        'above-water',
        `An intake at ${intakeFt} ft hangs above the water at ${depthToWaterFt} ft and draws air.`,
      ),
    ];
  if (compareText(intakeFt, saturated.topFt) < 0)
    return [
      conflict(
        'above-saturated-top',
        `An intake at ${intakeFt} ft is ${differenceText(saturated.topFt, intakeFt)} ft above the saturated top of the screen at ${saturated.topFt} ft and draws casing water first.`,
      ),
    ];
  return [];
}

function nearBottom({ depthToBottomFt, bottomClearanceFt }: IntakeSurroundings, intakeFt: string): IntakeConflict[] {
  const left = differenceText(depthToBottomFt, intakeFt);
  if (compareText(left, '0') < 0)
    return [
      conflict(
        'below-bottom',
        `An intake at ${intakeFt} ft would be below the bottom at ${depthToBottomFt} ft: measure again.`,
      ),
    ];
  if (compareText(left, bottomClearanceFt) >= 0) return [];
  return [
    conflict(
      'near-bottom',
      `An intake at ${intakeFt} ft is ${left} ft above the bottom, less than ${bottomClearanceFt} ft: it stirs up what lies there.`,
    ),
  ];
}

/**
 * What speaks against an intake at a depth: above the water, above the saturated top of the screen, below the screen,
 * below the bottom, or nearer to the bottom than the clearance. Exactly at a limit is within it: 2.00 ft is not less
 * than 2 ft.
 *
 * Source: US EPA Region 1 low-stress procedure, at least 2 ft above the bottom (from memory); Puls and Barcelona 1996,
 * EPA/540/S-95/504, section III, too close to the bottom entrains solids (read in an excerpted copy).
 */
export function intakeConflicts(surroundings: IntakeSurroundings, intakeFt: string): IntakeConflict[] {
  const { saturated } = surroundings;
  const below =
    compareText(intakeFt, saturated.bottomFt) > 0
      ? [
          conflict(
            'below-interval',
            `An intake at ${intakeFt} ft is below the screen, which ends at ${saturated.bottomFt} ft.`,
          ),
        ]
      : [];
  return [...above(surroundings, intakeFt), ...below, ...nearBottom(surroundings, intakeFt)];
}

/** The depths without a conflict, from the saturated top to the clearance above the bottom; null where there are none. */
export function clearDepths({
  saturated,
  depthToBottomFt,
  bottomClearanceFt,
}: IntakeSurroundings): { readonly fromFt: string; readonly toFt: string } | null {
  const lowest = differenceText(depthToBottomFt, bottomClearanceFt);
  const toFt = compareText(lowest, saturated.bottomFt) < 0 ? lowest : saturated.bottomFt;
  return compareText(saturated.topFt, toFt) > 0 ? null : { fromFt: saturated.topFt, toFt };
}

/** The length of water below which the middle of a screen at the bottom cannot keep its clearance: twice the clearance. */
export function leastSaturatedLengthFt(bottomClearanceFt: string): string {
  return sumText(bottomClearanceFt, bottomClearanceFt);
}
