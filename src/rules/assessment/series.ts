import type { Parameter } from '../../catalog/parameters.ts';
import { ninthsFromCelsius, ninthsFromFahrenheit } from '../../science/fahrenheit.ts';
import { millionths } from '../../science/millionths.ts';
import { roundHalfAway } from '../../science/round-half-away.ts';
import type { ReadingRecord } from './assessment-input.ts';
import { isOverRange, PERCENT_SATURATION, QUANTITIES, type Quantity } from './parameter-reading.ts';
import type { Options } from './read-plan.ts';
import type { Placed } from './timeline.ts';

/** The values of one parameter through a purge, as whole numbers, so that they compare exactly. */
export interface Series {
  readonly parameter: Parameter;
  /** Of its values, unless a reading says another one. */
  readonly unit: string;
  /** Digits to which the readings were rounded first; null: as entered. */
  readonly roundToPlaces: number | null;
  /** Values are in millionths; in ninths of them (9) where a Fahrenheit reading makes that necessary. */
  readonly factor: 1 | 9;
  /** NaN where a reading has no value that counts. */
  readonly values: readonly number[];
  /** Which field of each reading was read. */
  readonly quantities: readonly (Quantity | undefined)[];
  /** The readings at which the meter was over its range. */
  readonly overRange: readonly number[];
  /** For a window that ends with reading i, the first reading that it may use. Null: any. */
  readonly starts: readonly number[] | null;
  /** Every reading has a value and nothing restarts the parameter: its windows are those of the purge. */
  readonly complete: boolean;
}

type Readings = readonly Placed<ReadingRecord>[];

/** Where the parameter begins anew: after what may not be skipped, and where turbidity changes between NTU and FNU. */
function startsOf(parameter: Parameter, read: Read, options: Options): number[] {
  let start = 0;
  let before: Quantity | undefined;
  return read.quantities.map((quantity, index) => {
    const otherUnit = parameter === 'turbidity' && before !== undefined && quantity !== before;
    if (quantity !== undefined && otherUnit) start = index;
    before = quantity ?? before;
    if (quantity === undefined && options.missing === 'break') start = index + 1;
    const over = quantity !== undefined && Number.isNaN(read.values[index]);
    if (over && options.overRange === 'break') start = index + 1;
    return start;
  });
}

/** Fahrenheit readings make the whole series one of ninths of a degree Celsius, in which all of them are exact. */
function inNinths({ values, quantities }: Pick<Series, 'values' | 'quantities'>): number[] {
  return values.map((value, index) =>
    quantities[index]?.name === 'temperatureF' ? ninthsFromFahrenheit(value) : ninthsFromCelsius(value),
  );
}

interface Read {
  readonly values: number[];
  readonly quantities: (Quantity | undefined)[];
  readonly overRange: number[];
  /** How many readings have it in the first and in the second of its units. */
  readonly counts: { first: number; second: number };
}

function readInto(
  read: Read,
  readings: Readings,
  [first, second]: readonly [Quantity, Quantity?],
  roundToPlaces: number | null,
): void {
  for (let index = 0; index < readings.length; index += 1) {
    const { fields } = (readings[index] as Placed<ReadingRecord>).record;
    const text = first.of(fields) ?? second?.of(fields);
    if (text === undefined) {
      read.values.push(Number.NaN);
      read.quantities.push(undefined);
      continue;
    }
    const quantity = second === undefined || first.of(fields) !== undefined ? first : second;
    read.counts[quantity === first ? 'first' : 'second'] += 1;
    read.quantities.push(quantity);
    const value = millionths(text);
    const over = isOverRange(fields, quantity.name, value);
    if (over) read.overRange.push(index);
    read.values.push(over ? Number.NaN : roundToPlaces === null ? value : roundHalfAway(value, roundToPlaces));
  }
}

function readSeries(
  readings: Readings,
  parameter: Parameter,
  quantities: readonly [Quantity, Quantity?],
  roundToPlaces: number | null,
  options: Options,
  ninths: boolean,
): Series {
  const count = readings.length;
  const read: Read = { values: [], quantities: [], overRange: [], counts: { first: 0, second: 0 } };
  readInto(read, readings, quantities, roundToPlaces);
  const { values, overRange, counts } = read;
  const inNinthsOf = ninths || (parameter === 'temperature' && counts.second > 0);
  const complete = overRange.length === 0 && (counts.first === count || counts.second === count);
  return {
    parameter,
    unit: quantities[0].unit,
    roundToPlaces,
    factor: inNinthsOf ? 9 : 1,
    values: inNinthsOf ? inNinths(read) : values,
    quantities: read.quantities,
    overRange,
    starts: complete ? null : startsOf(parameter, read, options),
    complete,
  };
}

/**
 * Reads a parameter out of the readings of a purge, once. Rounds first where the plan says so, as one would on paper.
 *
 * @param ninths a tolerance in degrees Fahrenheit is exact only in ninths
 */
export function seriesOf(readings: Readings, parameter: Parameter, options: Options, ninths = false): Series {
  const { roundToPlaces } = options.parameters[parameter];
  return readSeries(readings, parameter, QUANTITIES[parameter], roundToPlaces, options, ninths);
}

/** Dissolved oxygen in percent of saturation, as entered. */
export function saturationSeries(readings: Readings, options: Options): Series {
  return readSeries(readings, 'dissolved-oxygen', PERCENT_SATURATION, null, options, false);
}
