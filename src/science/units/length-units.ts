import { decimalFraction, fraction } from './fraction.ts';
import { BY_PREFIX, ONE, type Unit } from './unit.ts';

const YARD = 'international yard and pound agreement of 1959: 1 yd = 0.9144 m exactly';
const SURVEY =
  'Mendenhall order of 1893: 1 ft = 1200/3937 m exactly; 2 parts in a million longer than the international foot, deprecated in the United States at the end of 2022';

/** Lengths, in metres. Depths of the trade are in international feet; old plane coordinates are in US survey feet. */
export const LENGTH_UNITS: readonly Unit[] = [
  { code: 'm', name: 'metre', written: 'm', suffix: 'M', quantity: 'length', factor: ONE, source: 'SI base unit' },
  of('km', 'kilometre', 'km', 'Km', '1000', BY_PREFIX),
  of('cm', 'centimetre', 'cm', 'Cm', '0.01', BY_PREFIX),
  of('mm', 'millimetre', 'mm', 'Mm', '0.001', BY_PREFIX),
  of('um', 'micrometre', 'µm', 'Um', '0.000001', BY_PREFIX),
  of('[ft_i]', 'international foot', 'ft', 'Ft', '0.3048', YARD),
  of('[in_i]', 'international inch', 'in', 'In', '0.0254', YARD),
  of('[yd_i]', 'international yard', 'yd', 'Yd', '0.9144', YARD),
  of('[mi_i]', 'international mile', 'mi', 'Mi', '1609.344', YARD),
  {
    code: '[ft_us]',
    name: 'US survey foot',
    written: 'ft',
    suffix: 'SurveyFt',
    quantity: 'length',
    factor: fraction(1200n, 3937n),
    source: SURVEY,
  },
];

function of(code: string, name: string, written: string, suffix: string, metres: string, source: string): Unit {
  return { code, name, written, suffix, quantity: 'length', factor: decimalFraction(metres), source };
}
