import { decimalFraction, dividedBy, type Fraction, times } from './fraction.ts';
import { BY_PREFIX, type Unit } from './unit.ts';

const STANDARD_GRAVITY = decimalFraction('9.80665');
const POUND_FORCE = times(decimalFraction('0.45359237'), STANDARD_GRAVITY);
const SQUARE_INCH = decimalFraction('0.00064516');
/** Pascals of a millimetre of mercury of 13.5951 kg/L under standard gravity: 133.322387415 exactly. */
const MILLIMETRE_OF_MERCURY = times(decimalFraction('13.5951'), STANDARD_GRAVITY);

const MERCURY =
  'conventional mercury at 0 °C, 13.5951 kg/L, standard gravity 9.80665 m/s² (NIST SP 811, 2008 edition, from memory): 1 inHg = 25.4 mmHg = 3.38639 kPa. The code tables of UCUM round it to 133.322 Pa, 3 parts in a million less';
const WATER =
  'conventional water of exactly 1 kg/L, standard gravity: not the water of a well, of which 1 m is 9.8037 kPa at 10 °C (computed)';

/**
 * Pressures, in pascals. Whether a pressure is counted from vacuum or from the air around is not in its unit: the name
 * of the field says it. A foot of well water is no unit but a head, which depends on temperature.
 */
export const PRESSURE_UNITS: readonly Unit[] = [
  of('Pa', 'pascal', 'Pa', 'Pa', decimalFraction('1'), 'SI: 1 N/m²'),
  of('hPa', 'hectopascal', 'hPa', 'HPa', decimalFraction('100'), BY_PREFIX),
  of('kPa', 'kilopascal', 'kPa', 'KPa', decimalFraction('1000'), BY_PREFIX),
  of('bar', 'bar', 'bar', 'Bar', decimalFraction('100000'), 'accepted with the SI: 100 kPa exactly'),
  of('mbar', 'millibar', 'mbar', 'Mbar', decimalFraction('100'), BY_PREFIX),
  of('atm', 'standard atmosphere', 'atm', 'Atm', decimalFraction('101325'), 'CGPM 1954: 101,325 Pa exactly'),
  of(
    '[psi]',
    'pound-force per square inch',
    'psi',
    'Psi',
    dividedBy(POUND_FORCE, SQUARE_INCH),
    'pound of 0.45359237 kg, standard gravity, international inch: exact by definition',
  ),
  of('mm[Hg]', 'millimetre of mercury', 'mmHg', 'MmHg', MILLIMETRE_OF_MERCURY, MERCURY),
  of("[in_i'Hg]", 'inch of mercury', 'inHg', 'InHg', times(MILLIMETRE_OF_MERCURY, decimalFraction('25.4')), MERCURY),
  of('m[H2O]', 'metre of conventional water', 'mH2O', 'MH2o', times(decimalFraction('1000'), STANDARD_GRAVITY), WATER),
  of(
    "[in_i'H2O]",
    'inch of conventional water',
    'inH2O',
    'InH2o',
    times(decimalFraction('25.4'), STANDARD_GRAVITY),
    WATER,
  ),
];

function of(code: string, name: string, written: string, suffix: string, factor: Fraction, source: string): Unit {
  return { code, name, written, suffix, quantity: 'pressure', factor, source };
}
