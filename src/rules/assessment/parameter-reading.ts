import type { Parameter } from '../../catalog/parameters.ts';
import type { READING_QUANTITY_NAMES } from '../../protocol/kinds/reading.ts';
import type { ReadingRecord } from './assessment-input.ts';

type Quantity = (typeof READING_QUANTITY_NAMES)[number];

/** Fields of a reading that hold a parameter, the one that is compared first. Units are never mixed unconverted. */
export const FIELDS: Readonly<Record<Parameter, readonly Quantity[]>> = {
  temperature: ['temperatureC', 'temperatureF'],
  ph: ['ph'],
  'specific-conductance': ['specificConductanceUsPerCm'],
  'dissolved-oxygen': ['dissolvedOxygenMgPerL'],
  orp: ['orpMv'],
  turbidity: ['turbidityNtu', 'turbidityFnu'],
};

/** Digits before the point beyond which a figure is no measurement of any meter, and treated as over its range. */
const MOST_WHOLE_DIGITS = 7;

function isTooLong(text: string): boolean {
  if (text.length <= MOST_WHOLE_DIGITS) return false;
  const point = text.indexOf('.');
  return (point < 0 ? text.length : point) - (text.startsWith('-') ? 1 : 0) > MOST_WHOLE_DIGITS;
}

/** The field of a reading that says something of a parameter: an index into its fields, -1 where none does. */
export function unitRead(fields: ReadingRecord['fields'], parameter: Parameter): number {
  const names = FIELDS[parameter];
  for (let unit = 0; unit < names.length; unit += 1) {
    const name = names[unit];
    if (name !== undefined && fields[name] !== undefined) return unit;
  }
  return -1;
}

/** Whether a figure is the end of the range of its meter instead of a measurement. */
export function isOverRange(fields: ReadingRecord['fields'], name: Quantity, text: string): boolean {
  return (fields.overRange?.includes(name) ?? false) || isTooLong(text);
}
