import { decimalText, millionths } from '../millionths.ts';
import { type Evidence, evidence, type WellCandidate, type WellMeasured } from './evidence.ts';

/** Outside the earlier levels by less than this says nothing, however little they moved. Common practice, no source. */
const LEAST_MARGIN_MILLIONTHS_FT = 2_000_000;

/**
 * Today's water against that of earlier rounds: within their range, widened to both sides by the range itself and by at
 * least 2 ft, agrees; outside only makes doubtful, for water moves. Of two wells of a nest it often tells which.
 */
export function levelEvidence(well: WellCandidate, { depthToWaterFt }: WellMeasured): Evidence {
  const { name } = well.fields;
  const earlier = well.earlierDepthsToWaterFt ?? [];
  if (depthToWaterFt === undefined) return evidence('water-level', 'unknown', 'The water was not measured.');
  if (earlier.length === 0)
    return evidence('water-level', 'unknown', `Not compared: no earlier level of ${name} is at hand.`);
  const depths = earlier.map(millionths);
  const [shallowest, deepest] = [Math.min(...depths), Math.max(...depths)];
  const margin = Math.max(LEAST_MARGIN_MILLIONTHS_FT, deepest - shallowest);
  const now = millionths(depthToWaterFt);
  const inside = now >= shallowest - margin && now <= deepest + margin;
  const range = `between ${decimalText(shallowest)} and ${decimalText(deepest)} ft`;
  const said = `Water at ${depthToWaterFt} ft; in ${name} it stood ${range} in earlier rounds`;
  return inside
    ? evidence('water-level', 'agrees', `${said}.`)
    : evidence('water-level', 'doubts', `${said}: it has moved far, or this is another well.`);
}
