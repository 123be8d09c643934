import { decimalFraction, fraction } from './fraction.ts';
import { ONE, type Unit } from './unit.ts';

/**
 * Temperatures, in kelvins. A temperature and a difference of temperatures convert differently: 1 °F on the scale is
 * -17.2 °C, and a tolerance of 1 °F is 0.56 °C.
 */
export const TEMPERATURE_UNITS: readonly Unit[] = [
  {
    code: 'Cel',
    name: 'degree Celsius',
    written: '°C',
    suffix: 'C',
    quantity: 'temperature',
    factor: ONE,
    zero: decimalFraction('273.15'),
    source: 'SI: t = T - 273.15 K',
  },
  {
    code: '[degF]',
    name: 'degree Fahrenheit',
    written: '°F',
    suffix: 'F',
    quantity: 'temperature',
    factor: fraction(5n, 9n),
    zero: fraction(45_967n, 180n),
    source: 'definition of the scale: 32 °F = 0 °C, 212 °F = 100 °C',
  },
  {
    code: 'K',
    name: 'kelvin',
    written: 'K',
    suffix: 'K',
    quantity: 'temperature',
    factor: ONE,
    source: 'SI base unit',
  },
];
