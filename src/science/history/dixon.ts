import { type Refusal, refuse } from '../refusal.ts';
import { atPlace } from './at-place.ts';
import { ascending, unusableRow } from './readable-values.ts';

export const DIXON_MOST = 25;

/** How many values are left out beside the suspected one (upper) and at the far end (lower), by the size of the row. */
function skips(count: number): { readonly near: number; readonly far: number } {
  if (count <= 7) return { near: 1, far: 0 };
  if (count <= 10) return { near: 1, far: 1 };
  return { near: 2, far: count <= 13 ? 1 : 2 };
}

/**
 * Dixon's ratio for one suspected value at an end of the row: its distance to a neighbour over most of the range. The
 * larger, the lonelier. It is compared with the table of its edition; none is kept here.
 *
 * r10 for 3 to 7 values, r11 for 8 to 10, r21 for 11 to 13, r22 for 14 to 25.
 *
 * Source: US EPA, Unified Guidance, EPA 530/R-09-007, 2009, Example 12-3; which ratio for which size from memory. Limits: the others are
 * normal, so concentrations usually come as logarithms; one outlier at a time; 3 to 25 values.
 *
 * @example dixonRatio([1, 2, 3, 10], 'highest') // 7/9
 */
export function dixonRatio(values: readonly number[], suspected: 'highest' | 'lowest'): number | Refusal {
  const unusable = unusableRow(values, 3);
  if (unusable) return unusable;
  if (values.length > DIXON_MOST)
    return refuse(`${values.length} values are too many: Dixon's test is for up to ${DIXON_MOST}, Rosner's for more.`);
  const outward = ascending(suspected === 'highest' ? values : values.map((value) => -value));
  const { near, far } = skips(outward.length);
  const last = outward.length;
  const end = atPlace(outward, last);
  const range = end - atPlace(outward, 1 + far);
  return range === 0
    ? refuse('The values that the ratio is made of are all alike: there is nothing to compare.')
    : (end - atPlace(outward, last - near)) / range;
}
