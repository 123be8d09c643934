import { decimalFraction } from './fraction.ts';
import { BY_PREFIX, type Unit } from './unit.ts';

/** Densities of liquids, in kilograms per cubic metre. A specific gravity is a ratio to water and no density. */
export const DENSITY_UNITS: readonly Unit[] = [
  of('kg/m3', 'kilogram per cubic metre', 'kg/m³', 'KgPerM3', '1'),
  of('kg/L', 'kilogram per litre', 'kg/L', 'KgPerL', '1000'),
  of('g/mL', 'gram per millilitre', 'g/mL', 'GPerMl', '1000'),
  of('g/cm3', 'gram per cubic centimetre', 'g/cm³', 'GPerCm3', '1000'),
];

function of(code: string, name: string, written: string, suffix: string, factor: string): Unit {
  return { code, name, written, suffix, quantity: 'density', factor: decimalFraction(factor), source: BY_PREFIX };
}
