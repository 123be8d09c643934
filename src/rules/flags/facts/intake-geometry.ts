import { millionths } from '../../millionths.ts';
import type { VisitBundle } from '../../visit-bundle.ts';
import { type DepthField, depthBelowPoint } from '../../well-depth.ts';
import { fieldEvidence } from '../evidence.ts';
import type { Evidence } from '../raised-flag.ts';
import { type Intake, intakeAt } from './intake.ts';
import { type MeasuredLevel, staticLevel } from './measured-levels.ts';
import { bottomNow, type WellBottom } from './well-bottom.ts';

/** How the pump hangs in the well, all in millionths of a foot below the measuring point. */
export interface IntakeGeometry {
  readonly intake: Intake;
  readonly intakeMillionthsFt: number;
  readonly intakeEvidence: Evidence;
  readonly water: MeasuredLevel | undefined;
  readonly bottom: WellBottom | undefined;
  readonly screenTopMillionthsFt: number | undefined;
  readonly screenBottomMillionthsFt: number | undefined;
}

function depthOf(bundle: VisitBundle, field: DepthField): number | undefined {
  const depth = depthBelowPoint(bundle.well, field);
  return depth.known ? depth.millionthsFt : undefined;
}

/** The latest set-up only: one that hung wrong and was mended by a later one raises nothing. */
export function intakeGeometry(bundle: VisitBundle): IntakeGeometry | undefined {
  const intake = intakeAt(bundle, Number.POSITIVE_INFINITY);
  if (intake === undefined) return undefined;
  return {
    intake,
    intakeMillionthsFt: millionths(intake.depthFt),
    intakeEvidence: fieldEvidence(intake.setUp, 'intakeDepthFt'),
    water: staticLevel(bundle),
    bottom: bottomNow(bundle),
    screenTopMillionthsFt: depthOf(bundle, 'screenTopFt'),
    screenBottomMillionthsFt: depthOf(bundle, 'screenBottomFt'),
  };
}
