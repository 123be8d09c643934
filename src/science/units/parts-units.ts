import { decimalFraction } from './fraction.ts';
import type { Unit } from './unit.ts';

const PART = 'a ratio of two like quantities: exact by definition';

/**
 * Parts of a whole. None is a concentration: "ppm" is mg/L only in water of exactly 1 kg/L, and "ppt" is written for
 * parts per thousand (of salt) and per trillion alike, so each has a name of its own here.
 */
export const PARTS_UNITS: readonly Unit[] = [
  of('1', 'ratio', '1', 'Ratio', '1'),
  of('%', 'percent', '%', 'Percent', '0.01'),
  of('[ppth]', 'part per thousand', 'ppt', 'PartsPerThousand', '0.001'),
  of('[ppm]', 'part per million', 'ppm', 'PartsPerMillion', '0.000001'),
  of('[ppb]', 'part per billion', 'ppb', 'PartsPerBillion', '0.000000001'),
  of('[pptr]', 'part per trillion', 'ppt', 'PartsPerTrillion', '0.000000000001'),
];

function of(code: string, name: string, written: string, suffix: string, factor: string): Unit {
  return { code, name, written, suffix, quantity: 'parts', factor: decimalFraction(factor), source: PART };
}
