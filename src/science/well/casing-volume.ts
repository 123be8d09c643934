import { cylinderVolumeMl } from '../cylinder-volume.ts';
import { isRefusal, type Refusal } from '../refusal.ts';
import { type WaterVolume, waterVolume } from './water-volume.ts';

/**
 * Water in a length of casing: V = pi / 4 D^2 H. In the units of the trade 0.0408 D^2 H gallons, D in inches and H in
 * feet (the constant is 0.04079990 exactly), or 5.8752 C^2 H with C in feet (county file, doc 445163, page 47, which
 * prints 5.875 and beside it a table whose 4-in figure, 0.563 gal/ft, is a misprint of 0.653).
 *
 * Limits: D is the actual inside diameter. A nominal 2-in casing of schedule 40 is 2.067 in inside and holds 6.8 % more
 * than 2.00 in.
 *
 * @example casingVolume({ insideDiameterIn: 2, waterColumnFt: 80 }) // usGallons: 13.06
 */
export function casingVolume(given: {
  readonly insideDiameterIn: number;
  readonly waterColumnFt: number;
}): WaterVolume | Refusal {
  const ml = cylinderVolumeMl(given.insideDiameterIn, given.waterColumnFt);
  return isRefusal(ml) ? ml : waterVolume(ml);
}

/**
 * How much a volume is misjudged that was counted with one diameter where another is true: (counted / true)^2 - 1.
 * Source: the same formula.
 *
 * @returns a share: -0.064 for 2.00 in counted where 2.067 in is true
 */
export function diameterMisjudges(countedIn: number, trueIn: number): number | Refusal {
  const counted = casingVolume({ insideDiameterIn: countedIn, waterColumnFt: 1 });
  if (isRefusal(counted)) return counted;
  const actual = casingVolume({ insideDiameterIn: trueIn, waterColumnFt: 1 });
  return isRefusal(actual) ? actual : counted.ml / actual.ml - 1;
}
