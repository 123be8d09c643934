import { isRefusal } from '../../../science/refusal.ts';
import { saturatedInterval } from '../../../science/well/saturated-interval.ts';
import { type WaterVolume, waterVolume } from '../../../science/well/water-volume.ts';
import type { WellVolumeInput } from './volume-input.ts';

/** A part of a well with its water, or with the reason why it is not counted. */
export interface WellPart {
  readonly volume: WaterVolume | null;
  readonly lengthFt: string | null;
  readonly reasons: readonly string[];
  readonly cautions: readonly string[];
}

export const NO_PART: WellPart = { volume: null, lengthFt: null, reasons: [], cautions: [] };

/** The water inside the saturated screen, which is a part of the water in the casing and not added to it. */
export function screenPart(given: WellVolumeInput, perFt: WaterVolume): WellPart {
  const { screenTopFt, screenBottomFt, depthToWaterFt } = given;
  if (screenTopFt === undefined && screenBottomFt === undefined) return NO_PART;
  if (screenTopFt === undefined || screenBottomFt === undefined)
    return { ...NO_PART, cautions: ['The screen is not counted: give its top and its bottom.'] };
  const saturated = saturatedInterval({ topFt: screenTopFt, bottomFt: screenBottomFt, depthToWaterFt });
  if (isRefusal(saturated)) return { ...NO_PART, cautions: [`The screen is not counted: ${saturated.refused}`] };
  const how = { submerged: 'all under water', partly: 'partly under water', dry: 'not under water' }[saturated.state];
  return {
    volume: waterVolume(perFt.ml * Number(saturated.lengthFt)),
    lengthFt: saturated.lengthFt,
    reasons: [`The screen from ${screenTopFt} to ${screenBottomFt} ft is ${how}: ${saturated.lengthFt} ft.`],
    cautions: [],
  };
}
