import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { compareText, middleText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';
import { clearDepths, type IntakeConflict, intakeConflicts } from './intake-conflicts.ts';
import { type SaturatedInterval, saturatedInterval } from './saturated-interval.ts';

export interface IntakePosition {
  readonly saturated: SaturatedInterval & { readonly state: 'submerged' | 'partly' };
  /** Middle of the saturated part. */
  readonly middleFt: string;
  /** What speaks against the middle. */
  readonly conflicts: readonly IntakeConflict[];
  /** Depths against which nothing speaks; null where the water is too short for any. */
  readonly clear: { readonly fromFt: string; readonly toFt: string } | null;
}

export interface IntakeGiven {
  readonly screenTopFt: string;
  readonly screenBottomFt: string;
  readonly depthToWaterFt: string;
  /** Sounded now, or else as recorded. */
  readonly depthToBottomFt: string;
  readonly bottomClearanceFt: string;
}

/** The screen down to where silt fills it. */
function openScreen(given: IntakeGiven): SaturatedInterval | Refusal {
  const silted = compareText(given.depthToBottomFt, given.screenBottomFt) < 0;
  if (compareText(given.depthToBottomFt, given.screenTopFt) <= 0)
    return refuse(
      `A bottom at ${given.depthToBottomFt} ft is above the whole screen, which begins at ${given.screenTopFt} ft: silted up, obstructed or another well. Sound again and read the tag on the casing.`,
    );
  return saturatedInterval({
    topFt: given.screenTopFt,
    bottomFt: silted ? given.depthToBottomFt : given.screenBottomFt,
    depthToWaterFt: given.depthToWaterFt,
  });
}

/**
 * Where the intake of a pump goes: the middle of the saturated screen, with what speaks against it. The formula only
 * shows a conflict; it does not choose between the middle and the clearance, which is for the plan and the crew.
 *
 * Source: middle or slightly above of the screen, Puls and Barcelona 1996, EPA/540/S-95/504, section III (read in an
 * excerpted copy); midpoint of the saturated screen, at least 2 ft above the bottom, US EPA Region 1 low-stress
 * procedure (from memory).
 * Limits: one screen. With a screen longer than 5 ft the zone of highest flux matters more than the middle (New Jersey
 * DEP, Low-Flow Purging and Sampling Guidance, Dec 2003, part 2).
 *
 * @example intakePosition({ screenTopFt: '20.0', screenBottomFt: '30.0', depthToWaterFt: '12.40', depthToBottomFt: '30.2',
 *   bottomClearanceFt: '2' }) // middleFt: '25.0', no conflict, clear from 20.0 to 28.2
 */
export function intakePosition(given: IntakeGiven): IntakePosition | Refusal {
  const unread = unreadable({ ...given });
  if (unread) return unread;
  const open = openScreen(given);
  if (isRefusal(open)) return open;
  const { state } = open;
  if (state === 'dry')
    return refuse(
      `Water at ${given.depthToWaterFt} ft stands below the screen, which ends at ${open.bottomFt} ft: there is no saturated screen to place an intake in. Record the well as dry, or let it recover.`,
    );
  const saturated = { ...open, state };
  const middleFt = middleText(saturated.topFt, saturated.bottomFt);
  const surroundings = { ...given, saturated };
  return { saturated, middleFt, conflicts: intakeConflicts(surroundings, middleFt), clear: clearDepths(surroundings) };
}
