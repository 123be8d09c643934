import { type Refusal, refuse } from '../refusal.ts';
import { compareText, differenceText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';

/**
 * Height of the water that stands in a well: depth to the bottom less depth to water, both below the same point, exact.
 * A well whose water stands at the bottom has a column of 0 and is dry. Negative depths to water are above the point.
 *
 * Source: definition; worked wells in county file, doc 581018, page 11, Table A-2 (June 1993).
 *
 * @returns feet, with the places of the finer depth; a refusal where the water would be below the bottom
 * @example waterColumnFt({ depthToBottomFt: '64.52', depthToWaterFt: '49.90' }) // '14.62'
 */
export function waterColumnFt(given: {
  readonly depthToBottomFt: string;
  readonly depthToWaterFt: string;
}): string | Refusal {
  const unread = unreadable({ ...given });
  if (unread) return unread;
  const { depthToBottomFt, depthToWaterFt } = given;
  if (compareText(depthToWaterFt, depthToBottomFt) > 0)
    return refuse(
      `Water at ${depthToWaterFt} ft is below the bottom at ${depthToBottomFt} ft: measure both again from the same point.`,
    );
  return differenceText(depthToBottomFt, depthToWaterFt);
}
