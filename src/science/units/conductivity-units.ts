import { decimalFraction } from './fraction.ts';
import { BY_PREFIX, type Unit } from './unit.ts';

const MHO = 'the mho is the older name of the siemens';

/**
 * Conductivities, in microsiemens per centimetre. Whether it is the conductivity at the temperature of the water or the
 * specific conductance at 25 °C is not in the unit: the name of the field says it.
 */
export const CONDUCTIVITY_UNITS: readonly Unit[] = [
  of('uS/cm', 'microsiemens per centimetre', 'µS/cm', 'UsPerCm', '1', BY_PREFIX),
  of('mS/cm', 'millisiemens per centimetre', 'mS/cm', 'MsPerCm', '1000', BY_PREFIX),
  of('dS/m', 'decisiemens per metre', 'dS/m', 'DsPerM', '1000', BY_PREFIX),
  of('mS/m', 'millisiemens per metre', 'mS/m', 'MsPerM', '10', BY_PREFIX),
  of('S/m', 'siemens per metre', 'S/m', 'SPerM', '10000', BY_PREFIX),
  of('umho/cm', 'micromho per centimetre', 'µmho/cm', 'UmhoPerCm', '1', MHO),
];

function of(code: string, name: string, written: string, suffix: string, factor: string, source: string): Unit {
  return { code, name, written, suffix, quantity: 'conductivity', factor: decimalFraction(factor), source };
}
