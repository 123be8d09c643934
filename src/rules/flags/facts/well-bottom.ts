import { whichWell } from '../../identify-well.ts';
import { millionths } from '../../millionths.ts';
import type { VisitBundle } from '../../visit-bundle.ts';
import { depthBelowPoint } from '../../well-depth.ts';
import { fieldEvidence } from '../evidence.ts';
import type { Evidence } from '../raised-flag.ts';
import { inObservedOrder } from './observed-order.ts';

export interface WellBottom {
  readonly millionthsFt: number;
  readonly text: string;
  readonly evidence: Evidence;
}

/** The bottom as the record of the well has it; unknown where it, or the stick-up it needs, is not recorded. */
export function recordedBottom(bundle: VisitBundle): WellBottom | undefined {
  const depth = depthBelowPoint(bundle.well, 'totalDepthFt');
  if (!depth.known) return undefined;
  const { millionthsFt, text } = depth;
  return { millionthsFt, text, evidence: fieldEvidence(bundle.well, 'totalDepthFt') };
}

/** The bottom as it is: the latest sounding that can be this well's, for silt raises it; or else the recorded one. */
export function bottomNow(bundle: VisitBundle): WellBottom | undefined {
  const sounded = inObservedOrder(bundle.soundings).findLast((one) => {
    const { fits } = whichWell({ ...bundle, depthToBottomFt: one.fields.depthToBottomFt });
    return fits === 'this' || fits === 'unknown';
  });
  if (sounded === undefined) return recordedBottom(bundle);
  const { depthToBottomFt } = sounded.fields;
  return {
    millionthsFt: millionths(depthToBottomFt),
    text: `${depthToBottomFt} ft`,
    evidence: fieldEvidence(sounded, 'depthToBottomFt'),
  };
}
