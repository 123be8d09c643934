import { type Fraction, fraction } from './fraction.ts';
import { ONE, type Unit } from './unit.ts';

/** Elapsed times, in seconds. A day here is 24 hours, not a date: a clock that is changed in the night has none. */
export const TIME_UNITS: readonly Unit[] = [
  of('s', 'second', 's', 'S', ONE),
  of('ms', 'millisecond', 'ms', 'Ms', fraction(1n, 1_000n)),
  of('min', 'minute', 'min', 'Min', fraction(60n)),
  of('h', 'hour', 'h', 'H', fraction(3_600n)),
  of('d', 'day of 24 hours', 'd', 'D', fraction(86_400n)),
];

function of(code: string, name: string, written: string, suffix: string, factor: Fraction): Unit {
  return { code, name, written, suffix, quantity: 'time', factor, source: 'accepted with the SI: exact by definition' };
}

/** Angles, in degrees: coordinates and directions. */
export const ANGLE_UNITS: readonly Unit[] = [
  {
    code: 'deg',
    name: 'degree of an angle',
    written: '°',
    suffix: 'Deg',
    quantity: 'angle',
    factor: ONE,
    source: 'accepted with the SI: a full turn is 360 degrees exactly',
  },
];
