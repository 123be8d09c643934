import type { Parameter } from '../../catalog/parameters.ts';
import type { READING_QUANTITY_NAMES } from '../../protocol/kinds/reading.ts';
import type { ReadingRecord } from './assessment-input.ts';

/** What a reading says, however it is known. */
type Fields = Pick<ReadingRecord['fields'], QuantityName | 'overRange'>;
type QuantityName = (typeof READING_QUANTITY_NAMES)[number];

export interface Quantity {
  readonly name: QuantityName;
  readonly unit: string;
  readonly of: (fields: Fields) => string | undefined;
}

/** Fields of a reading that hold a parameter, the one that is compared first. Units are never mixed unconverted. */
export const QUANTITIES: Readonly<Record<Parameter, readonly [Quantity, Quantity?]>> = {
  temperature: [
    { name: 'temperatureC', unit: '°C', of: (fields) => fields.temperatureC },
    { name: 'temperatureF', unit: '°F', of: (fields) => fields.temperatureF },
  ],
  ph: [{ name: 'ph', unit: 'pH', of: (fields) => fields.ph }],
  'specific-conductance': [
    { name: 'specificConductanceUsPerCm', unit: 'µS/cm', of: (fields) => fields.specificConductanceUsPerCm },
  ],
  'dissolved-oxygen': [{ name: 'dissolvedOxygenMgPerL', unit: 'mg/L', of: (fields) => fields.dissolvedOxygenMgPerL }],
  orp: [{ name: 'orpMv', unit: 'mV', of: (fields) => fields.orpMv }],
  turbidity: [
    { name: 'turbidityNtu', unit: 'NTU', of: (fields) => fields.turbidityNtu },
    { name: 'turbidityFnu', unit: 'FNU', of: (fields) => fields.turbidityFnu },
  ],
};

/** What a criterion may be met in besides: a quantity of its own, never mixed with mg/L. */
export const PERCENT_SATURATION: readonly [Quantity] = [
  { name: 'dissolvedOxygenPercent', unit: '% saturation', of: (fields) => fields.dissolvedOxygenPercent },
];

/** In which field a reading says something of a parameter; undefined where it says nothing. */
export function quantityRead(fields: Fields, parameter: Parameter): Quantity | undefined {
  return QUANTITIES[parameter].find((quantity) => quantity?.of(fields) !== undefined);
}

/** A figure that large, in millionths, is no measurement of any meter, and treated as over its range. */
const BEYOND_ANY_METER = 1e13;

/** Whether a figure is the end of the range of its meter instead of a measurement. */
export function isOverRange(fields: Fields, name: QuantityName, value: number): boolean {
  if (value >= BEYOND_ANY_METER || value <= -BEYOND_ANY_METER) return true;
  return fields.overRange?.includes(name) ?? false;
}
