import { type Refusal, refuse } from '../refusal.ts';
import { compareText, differenceText, productText, roundedText } from '../units/decimal-arithmetic.ts';
import { lastPlace } from '../units/decimal-step.ts';
import { unreadable } from '../units/unreadable.ts';

export interface ProductCorrection {
  readonly thicknessFt: string;
  /** Thickness times specific gravity: by how much the water would stand higher without the product. */
  readonly riseFt: string;
  /** Depth to the water as it would stand, exact. */
  readonly exactDepthToWaterFt: string;
  /** The same, to the place of the measured depths. */
  readonly depthToWaterFt: string;
}

/**
 * Depth to water corrected for product that floats on it: DTW - T SG with T = DTW - DTP; the same as DTP + T (1 - SG).
 *
 * Source: hydrostatics; worked in county file, doc 471029, page 11 (30 Jul 2003): 9.08 ft, 0.33 ft, 0.83 make 8.81 ft.
 * Limits: a liquid lighter than water. One that sinks lies below the water and does not press it down: it is refused. The
 * specific gravity is of this product, measured or of the plan; there is no default, for 0.74 of gasoline and 0.84 of
 * diesel (county file, doc 547934, page 22) differ by a tenth of the thickness. It is relative to the water of the well.
 *
 * @example productCorrection({ depthToProductFt: '8.75', depthToWaterFt: '9.08', specificGravity: '0.83' })
 */
export function productCorrection(given: {
  readonly depthToProductFt: string;
  readonly depthToWaterFt: string;
  readonly specificGravity: string | undefined;
}): ProductCorrection | Refusal {
  const unread = unreadable({ ...given });
  if (unread) return unread;
  const { depthToProductFt, depthToWaterFt, specificGravity } = given;
  if (specificGravity === undefined)
    return refuse(
      'The specific gravity of the product is not given and is never assumed: measure it or take it from the plan.',
    );
  if (compareText(specificGravity, '0') <= 0)
    return refuse(`A specific gravity of ${specificGravity} is of no liquid: give one above 0, such as 0.83.`);
  if (compareText(specificGravity, '1') >= 0)
    return refuse(
      `A liquid of specific gravity ${specificGravity} does not float: it lies below the water, and this correction is not for it. Give the measured depth to water uncorrected, and the sinking product apart.`,
    );
  if (compareText(depthToProductFt, depthToWaterFt) > 0)
    return refuse(
      `Product at ${depthToProductFt} ft below the water at ${depthToWaterFt} ft does not float on it: read the interface again.`,
    );
  const thicknessFt = differenceText(depthToWaterFt, depthToProductFt);
  const riseFt = productText(thicknessFt, specificGravity);
  const exactDepthToWaterFt = differenceText(depthToWaterFt, riseFt);
  const place = Math.max(lastPlace(depthToWaterFt), lastPlace(depthToProductFt));
  return { thicknessFt, riseFt, exactDepthToWaterFt, depthToWaterFt: roundedText(exactDepthToWaterFt, place) };
}

/**
 * Thickness of product in the formation, which is far less than in a well: t (1 - SG) - h with h the height of the
 * capillary fringe, in one unit of length.
 *
 * Source: Kuo, Practical Design Calculations for Groundwater and Soil Remediation, 2nd ed., p. 32, ex. 2.17:
 * 75 (1 - 0.8) - 12 = 3 in. Limits: a first estimate; nothing is left where the fringe takes all.
 *
 * @example formationThicknessIn({ wellThicknessIn: 75, specificGravity: 0.8, capillaryFringeIn: 12 }) // 3
 */
export function formationThicknessIn(given: {
  readonly wellThicknessIn: number;
  readonly specificGravity: number;
  readonly capillaryFringeIn: number;
}): number | Refusal {
  const { wellThicknessIn, specificGravity, capillaryFringeIn } = given;
  if (!(specificGravity > 0 && specificGravity < 1))
    return refuse(`A specific gravity of ${specificGravity} is of no floating liquid: give one between 0 and 1.`);
  if (!(wellThicknessIn >= 0)) return refuse(`A thickness of ${wellThicknessIn} in is none: give 0 or more.`);
  if (!(capillaryFringeIn >= 0))
    return refuse(`A capillary fringe of ${capillaryFringeIn} in is none: give 0 or more.`);
  return Math.max(0, wellThicknessIn * (1 - specificGravity) - capillaryFringeIn);
}
