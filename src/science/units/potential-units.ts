import { decimalFraction } from './fraction.ts';
import { BY_PREFIX, ONE, type Unit } from './unit.ts';

/**
 * Electric potentials, in volts. Against which electrode a potential was measured is not in the unit: an ORP reading is
 * never an Eh.
 */
export const POTENTIAL_UNITS: readonly Unit[] = [
  { code: 'V', name: 'volt', written: 'V', suffix: 'V', quantity: 'potential', factor: ONE, source: 'SI' },
  {
    code: 'mV',
    name: 'millivolt',
    written: 'mV',
    suffix: 'Mv',
    quantity: 'potential',
    factor: decimalFraction('0.001'),
    source: BY_PREFIX,
  },
];

export const ACIDITY_UNITS: readonly Unit[] = [
  {
    code: '[pH]',
    name: 'pH',
    written: 'pH',
    suffix: 'Ph',
    quantity: 'acidity',
    factor: ONE,
    alone: 'pH is a logarithm: it is compared by difference and not converted',
    source: 'IUPAC: negative decimal logarithm of the activity of hydrogen ions',
  },
];
