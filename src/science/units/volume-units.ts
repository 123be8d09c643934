import { decimalFraction } from './fraction.ts';
import { BY_PREFIX, type Unit } from './unit.ts';

const WINE = 'US liquid gallon: 231 cubic international inches exactly, 3.785411784 L';
const CUBIC = 'cube of the international foot or inch: exact by definition';

/** Volumes, in litres. A gallon in the United States is not the imperial one: 3.785 L against 4.546 L. */
export const VOLUME_UNITS: readonly Unit[] = [
  of('L', 'litre', 'L', 'L', '1', 'accepted with the SI: 1 L = 0.001 cubic metre exactly'),
  of('mL', 'millilitre', 'mL', 'Ml', '0.001', BY_PREFIX),
  of('uL', 'microlitre', 'µL', 'Ul', '0.000001', BY_PREFIX),
  of('cm3', 'cubic centimetre', 'cm³', 'Cm3', '0.001', BY_PREFIX),
  of('m3', 'cubic metre', 'm³', 'M3', '1000', BY_PREFIX),
  of('[gal_us]', 'US gallon', 'gal', 'Gal', '3.785411784', WINE),
  of('[qt_us]', 'US liquid quart', 'qt', 'Qt', '0.946352946', WINE),
  of('[pt_us]', 'US liquid pint', 'pt', 'Pt', '0.473176473', WINE),
  of('[foz_us]', 'US fluid ounce', 'fl oz', 'FlOz', '0.0295735295625', WINE),
  of('[gal_br]', 'imperial gallon', 'gal', 'ImperialGal', '4.54609', 'United Kingdom, Weights and Measures Act 1985'),
  of('[cft_i]', 'cubic foot', 'ft³', 'Ft3', '28.316846592', CUBIC),
  of('[cin_i]', 'cubic inch', 'in³', 'In3', '0.016387064', CUBIC),
];

function of(code: string, name: string, written: string, suffix: string, litres: string, source: string): Unit {
  return { code, name, written, suffix, quantity: 'volume', factor: decimalFraction(litres), source };
}
