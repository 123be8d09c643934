import { SILT_MILLIONTHS_FT, tapeTolerance } from '../depth-tolerance.ts';
import { decimalText, millionths } from '../millionths.ts';
import { depthBelowPoint } from '../well-depth.ts';
import { type Evidence, evidence, type WellCandidate, type WellMeasured } from './evidence.ts';

/**
 * The sounded bottom against the recorded one. Nothing makes a well deeper, so deeper than the tape allows contradicts;
 * shallower than silt explains is only doubtful, for an obstruction stops a tape too.
 */
export function depthEvidence(well: WellCandidate, { depthToBottomFt }: WellMeasured): Evidence {
  if (depthToBottomFt === undefined) return evidence('depth', 'unknown', 'The bottom was not sounded.');
  const depth = depthBelowPoint(well, 'totalDepthFt');
  if (!depth.known) return evidence('depth', 'unknown', `Not compared: ${depth.because}.`);
  const excess = millionths(depthToBottomFt) - depth.millionthsFt;
  const said = `${depthToBottomFt} ft was sounded, ${well.fields.name} is recorded with ${depth.text}`;
  if (excess > tapeTolerance(depth.millionthsFt))
    return evidence('depth', 'contradicts', `${said}: ${decimalText(excess)} ft deeper, which nothing makes a well.`);
  if (excess < -SILT_MILLIONTHS_FT)
    return evidence('depth', 'doubts', `${said}: ${decimalText(-excess)} ft shallower, more than silt usually makes.`);
  return evidence('depth', 'agrees', `${said}.`);
}
