import type { Figure } from '../criteria-set.ts';
import { fromMemory, seen } from '../figures.ts';

/** Dimensions of a pipe size. The as-built record of a well, or a measurement, goes before any table. */
export interface CasingSize {
  readonly nominalIn: string;
  readonly schedule: '40' | '80';
  readonly insideDiameterIn: Figure;
  readonly outsideDiameterIn: Figure;
}

export const CASING_SIZES_SOURCE =
  'pipe dimensions of ASTM D1785 (plastic, schedules 40 and 80; inside diameters are averages), from memory where not seen in county file, doc 547934, page 22';

const IN_COUNTY_FILE = 'county file, doc 547934, page 22';

function size(nominalIn: string, schedule: '40' | '80', inside: string, outside: string): CasingSize {
  return {
    nominalIn,
    schedule,
    insideDiameterIn: fromMemory(inside, 'high'),
    outsideDiameterIn: fromMemory(outside, 'high'),
  };
}

/** Sizes of casing in monitoring wells, smallest first. */
export const CASING_SIZES: readonly CasingSize[] = [
  size('0.75', '40', '0.824', '1.050'),
  size('1', '40', '1.049', '1.315'),
  size('1', '80', '0.957', '1.315'),
  size('1.25', '40', '1.380', '1.660'),
  size('1.5', '40', '1.610', '1.900'),
  { ...size('2', '40', '2.067', '2.375'), insideDiameterIn: seen('2.067', IN_COUNTY_FILE) },
  size('2', '80', '1.939', '2.375'),
  size('3', '40', '3.068', '3.500'),
  { ...size('4', '40', '4.026', '4.500'), insideDiameterIn: seen('4.026', IN_COUNTY_FILE) },
  size('4', '80', '3.826', '4.500'),
  size('6', '40', '6.065', '6.625'),
  size('6', '80', '5.761', '6.625'),
  size('8', '40', '7.981', '8.625'),
];

export function casingSize(nominalIn: string, schedule: '40' | '80'): CasingSize | undefined {
  return CASING_SIZES.find((one) => Number(one.nominalIn) === Number(nominalIn) && one.schedule === schedule);
}
