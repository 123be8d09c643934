import { decimalFraction } from './fraction.ts';
import { BY_PREFIX, type Unit } from './unit.ts';

/** Mass concentrations in water, in milligrams per litre. */
export const CONCENTRATION_UNITS: readonly Unit[] = [
  of('mg/L', 'milligram per litre', 'mg/L', 'MgPerL', '1'),
  of('g/L', 'gram per litre', 'g/L', 'GPerL', '1000'),
  of('ug/L', 'microgram per litre', 'µg/L', 'UgPerL', '0.001'),
  of('ng/L', 'nanogram per litre', 'ng/L', 'NgPerL', '0.000001'),
  of('pg/L', 'picogram per litre', 'pg/L', 'PgPerL', '0.000000001'),
  of('ug/mL', 'microgram per millilitre', 'µg/mL', 'UgPerMl', '1'),
];

function of(code: string, name: string, written: string, suffix: string, factor: string): Unit {
  return { code, name, written, suffix, quantity: 'concentration', factor: decimalFraction(factor), source: BY_PREFIX };
}
