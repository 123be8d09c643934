import { isRefusal } from '../../../science/refusal.ts';
import { packVolume } from '../../../science/well/pack-volume.ts';
import { saturatedInterval } from '../../../science/well/saturated-interval.ts';
import type { CasingDiameter } from './casing-diameter.ts';
import { NO_PART, type WellPart } from './screen-part.ts';
import type { WellVolumeInput } from './volume-input.ts';

function notCounted(why: string): WellPart {
  return { ...NO_PART, cautions: [`The filter pack is not counted: ${why}`] };
}

/** The outside of the casing; without it the inside stands for it, as in the published example. */
function outside(
  given: WellVolumeInput,
  diameter: CasingDiameter,
): { readonly inches: string; readonly said: string[] } {
  const known = given.casingOutsideDiameterIn ?? diameter.outsideDiameterIn;
  if (known !== undefined) return { inches: known, said: [] };
  return {
    inches: diameter.insideDiameterIn,
    said: [
      'The inside diameter of the casing stands for its outside, which is not given: the pack comes out too large.',
    ],
  };
}

/** The water in the pores of the saturated filter pack, where everything that it needs is given. */
export function packPart(given: WellVolumeInput, diameter: CasingDiameter): WellPart {
  const { boreholeDiameterIn, packPorosity, packTopFt, depthToWaterFt } = given;
  if (boreholeDiameterIn === undefined && packPorosity === undefined && packTopFt === undefined) return NO_PART;
  if (boreholeDiameterIn === undefined || packPorosity === undefined || packTopFt === undefined)
    return notCounted('give the drilled diameter, the porosity and the top of the pack; none of them is assumed.');
  const bottomFt = given.packBottomFt ?? given.depthToBottomFt;
  const saturated = saturatedInterval({ topFt: packTopFt, bottomFt, depthToWaterFt });
  if (isRefusal(saturated)) return notCounted(saturated.refused);
  const { inches, said } = outside(given, diameter);
  const volume = packVolume({
    boreholeDiameterIn: Number(boreholeDiameterIn),
    casingOutsideDiameterIn: Number(inches),
    saturatedPackFt: Number(saturated.lengthFt),
    porosity: Number(packPorosity),
  });
  if (isRefusal(volume)) return notCounted(volume.refused);
  const reason = `${saturated.lengthFt} ft of the filter pack are under water, ${boreholeDiameterIn} in outside and ${inches} in inside, with ${packPorosity} of pores.`;
  return { volume, lengthFt: saturated.lengthFt, reasons: [reason], cautions: said };
}
