const ML_PER_US_GALLON = 3_785.411784;
const ML_PER_CUBIC_FOOT = 28_316.846592;

/** One volume of water in the units that people of the trade ask for. */
export interface WaterVolume {
  readonly ml: number;
  readonly litres: number;
  readonly usGallons: number;
  readonly cubicFeet: number;
}

/** A volume in millilitres in the other units (1 US gallon = 3.785411784 L, 1 ft = 0.3048 m, both exact). */
export function waterVolume(ml: number): WaterVolume {
  return { ml, litres: ml / 1_000, usGallons: ml / ML_PER_US_GALLON, cubicFeet: ml / ML_PER_CUBIC_FOOT };
}
