import type { Parameter } from '../../catalog/parameters.ts';
import { digitsOf, placesOf, powerOfTen } from '../../science/decimal-text.ts';
import { ninthsFromCelsius, ninthsFromFahrenheit } from '../../science/fahrenheit.ts';
import { roundHalfAway } from '../../science/round-half-away.ts';
import type { ReadingRecord } from './assessment-input.ts';
import { FIELDS, isOverRange, unitRead } from './parameter-reading.ts';
import type { Options } from './read-plan.ts';
import type { Placed } from './timeline.ts';

/** The values of one parameter through a purge, as whole numbers at one decimal position, so that they compare exactly. */
export interface Series {
  readonly parameter: Parameter;
  /** Digits after the point. */
  readonly places: number;
  /** 9 where a Fahrenheit reading makes ninths of a degree Celsius necessary. */
  readonly factor: 1 | 9;
  /** NaN where a reading has no value that counts. */
  readonly values: readonly number[];
  readonly overRange: readonly boolean[];
  /** For a window that ends with reading i, the first reading that it may use. */
  readonly starts: readonly number[];
  /** Every reading has a value and nothing restarts the parameter: its windows are those of the purge. */
  readonly complete: boolean;
  /** Index of the unit of the latest value. */
  readonly unit: number;
}

interface Draft {
  readonly digits: number[];
  readonly places: number[];
  readonly units: number[];
  readonly overRange: boolean[];
  readonly starts: number[];
  complete: boolean;
}

/** Turbidity in NTU and in FNU is not one quantity: a change restarts it. Fahrenheit is converted and changes nothing. */
function isOtherUnit(parameter: Parameter, unit: number, before: number): boolean {
  return parameter === 'turbidity' && before >= 0 && unit >= 0 && unit !== before;
}

function take(draft: Draft, fields: ReadingRecord['fields'], parameter: Parameter, unit: number): void {
  const name = unit < 0 ? undefined : FIELDS[parameter][unit];
  const text = name && fields[name];
  const over = name !== undefined && text !== undefined && isOverRange(fields, name, text);
  draft.digits.push(text === undefined || over ? Number.NaN : digitsOf(text));
  draft.places.push(text === undefined || over ? 0 : placesOf(text));
  draft.units.push(unit);
  draft.overRange.push(over);
}

function draftOf(readings: readonly Placed<ReadingRecord>[], parameter: Parameter, options: Options): Draft {
  const draft: Draft = { digits: [], places: [], units: [], overRange: [], starts: [], complete: true };
  let start = 0;
  let unitBefore = -1;
  for (let index = 0; index < readings.length; index += 1) {
    const { fields } = (readings[index] as Placed<ReadingRecord>).record;
    const unit = unitRead(fields, parameter);
    take(draft, fields, parameter, unit);
    if (isOtherUnit(parameter, unit, unitBefore)) start = index;
    if (unit >= 0) unitBefore = unit;
    if (unit < 0 && options.missing === 'break') start = index + 1;
    if (draft.overRange[index] && options.overRange === 'break') start = index + 1;
    draft.starts.push(start);
    if (Number.isNaN(draft.digits[index]) || start > 0) draft.complete = false;
  }
  return draft;
}

/** Rounds first where the plan says so: in the unit of the meter, as a person would on paper. */
function rounded(draft: Draft, toPlaces: number | null): void {
  if (toPlaces === null) return;
  for (let index = 0; index < draft.digits.length; index += 1) {
    const places = draft.places[index] ?? 0;
    draft.digits[index] = roundHalfAway(draft.digits[index] ?? Number.NaN, places, toPlaces);
    draft.places[index] = Math.min(places, toPlaces);
  }
}

/**
 * Reads a parameter out of the readings of a purge, once.
 *
 * @param leastPlaces digits after the point that the thresholds and tolerances of the parameter need
 */
export function seriesOf(
  readings: readonly Placed<ReadingRecord>[],
  parameter: Parameter,
  options: Options,
  leastPlaces: number,
): Series {
  const draft = draftOf(readings, parameter, options);
  rounded(draft, options.parameters[parameter].roundToPlaces);
  const places = Math.max(leastPlaces, ...draft.places);
  const fahrenheit = parameter === 'temperature' && draft.units.includes(1);
  const one = powerOfTen(places);
  const values = draft.digits.map((digits, index) => {
    const value = digits * powerOfTen(places - (draft.places[index] ?? 0));
    if (!fahrenheit) return value;
    return draft.units[index] === 1 ? ninthsFromFahrenheit(value, one) : ninthsFromCelsius(value);
  });
  const { overRange, starts, complete } = draft;
  const unit = draft.units.findLast((index) => index >= 0) ?? 0;
  return { parameter, places, factor: fahrenheit ? 9 : 1, values, overRange, starts, complete, unit };
}
