import { isRefusal } from '../../science/refusal.ts';
import { convertUnit } from '../../science/units/convert-unit.ts';
import type { ReadingRecord } from '../assessment/assessment-input.ts';
import { inObservedOrder } from '../flags/facts/observed-order.ts';

export const CHEMISTRY_QUANTITIES = [
  'temperatureC',
  'ph',
  'specificConductanceUsPerCm',
  'dissolvedOxygenMgPerL',
  'dissolvedOxygenPercent',
  'orpMv',
  'turbidityNtu',
  'turbidityFnu',
] as const;
export type ChemistryQuantity = (typeof CHEMISTRY_QUANTITIES)[number];

/** What a reading says of the water, as decimal strings; null where it says nothing. */
export interface ChemistryReading extends Readonly<Record<ChemistryQuantity, string | null>> {
  readonly id: string;
  readonly meter: string | null;
}

/** The text of a field; null where it is empty or marks the end of the range of the meter. */
function measured({ fields }: ReadingRecord, name: ChemistryQuantity | 'temperatureF'): string | null {
  return fields.overRange?.includes(name) ? null : (fields[name] ?? null);
}

function celsius(reading: ReadingRecord): string | null {
  const own = measured(reading, 'temperatureC');
  const fahrenheit = measured(reading, 'temperatureF');
  if (own !== null || fahrenheit === null) return own;
  const converted = convertUnit(fahrenheit, '[degF]', 'Cel');
  return isRefusal(converted) ? null : converted.text;
}

function chemistryReading(reading: ReadingRecord): ChemistryReading {
  const of = (name: ChemistryQuantity) => measured(reading, name);
  return {
    id: reading.id,
    meter: reading.fields.meter ?? null,
    temperatureC: celsius(reading),
    ph: of('ph'),
    specificConductanceUsPerCm: of('specificConductanceUsPerCm'),
    dissolvedOxygenMgPerL: of('dissolvedOxygenMgPerL'),
    dissolvedOxygenPercent: of('dissolvedOxygenPercent'),
    orpMv: of('orpMv'),
    turbidityNtu: of('turbidityNtu'),
    turbidityFnu: of('turbidityFnu'),
  };
}

const known = new WeakMap<ReadingRecord, ChemistryReading>();

/** A record never changes, and a purge that goes on is looked at with every line that comes: each is read once. */
function readOnce(record: ReadingRecord): ChemistryReading {
  const before = known.get(record);
  if (before !== undefined) return before;
  const reading = chemistryReading(record);
  known.set(record, reading);
  return reading;
}

/** The readings of a purge for the rules of chemistry: earliest first, without voided ones and over-range figures. */
export function chemistryReadings(records: readonly ReadingRecord[]): readonly ChemistryReading[] {
  return inObservedOrder(records.filter((record) => record.voided === null)).map(readOnce);
}
