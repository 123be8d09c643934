import type { Parameter } from '../../catalog/parameters.ts';
import type { Display } from '../../science/forecast/drawn-readings.ts';
import type { TimedValue } from '../../science/history/theil-sen.ts';
import { placesOf } from '../../science/millionths.ts';
import type { ReadingRecord } from '../assessment/assessment-input.ts';
import { chooseWindow } from '../assessment/choose-window.ts';
import type { Moment } from '../assessment/moments.ts';
import type { Quantity } from '../assessment/parameter-reading.ts';
import type { PurgeRun, RunParameter } from '../assessment/purge-run.ts';
import type { Series } from '../assessment/series.ts';
import type { Placed } from '../assessment/timeline.ts';

/** The readings of a parameter that a forecast is made from: those since the last interruption, in minutes. */
export interface ParameterPoints {
  readonly points: readonly TimedValue[];
  readonly display: Display;
  /** The values with which the next window begins: those of the latest readings that count, one less than a window has. */
  readonly before: readonly number[];
}

/** In millionths: as large a figure is no measurement of any meter. */
const MOST = 1e13;

/** These have no zero to stop at. */
const MAY_BE_NEGATIVE: ReadonlySet<Parameter> = new Set(['temperature', 'orp']);

/** The last digit of a text, in the unit of the series: millionths, or ninths of them. */
function lastDigit({ factor, roundToPlaces }: Series, quantity: Quantity, text: string): number {
  const places = Math.min(placesOf(text), roundToPlaces ?? 6);
  const ninths = quantity.name === 'temperatureF' ? 5 : 9;
  return (factor === 1 ? 1 : ninths) * 10 ** (6 - places);
}

/** A reading that has a value that counts. */
interface Usable {
  readonly atMs: number;
  readonly value: number;
  readonly lastDigit: number;
}

function usableAt(run: PurgeRun, { series }: RunParameter, index: number): Usable[] {
  const quantity = series.quantities[index];
  const value = series.values[index] as number;
  if (quantity === undefined || Number.isNaN(value)) return [];
  const text = quantity.of((run.readings[index] as Placed<ReadingRecord>).record.fields) as string;
  const { atMs } = run.moments[index] as Moment;
  return [{ atMs, value, lastDigit: lastDigit(series, quantity, text) }];
}

/** Those since the last interruption; of two of one moment the later one. */
function usable(run: PurgeRun, parameter: RunParameter): Usable[] {
  const end = run.moments.length - 1;
  const first = Math.max(run.moments[end]?.firstCounted ?? 0, parameter.series.starts?.[end] ?? 0);
  const all = run.moments.flatMap((_, index) => (index < first ? [] : usableAt(run, parameter, index)));
  return all.filter(({ atMs }, at) => all[at + 1]?.atMs !== atMs);
}

export function parameterPoints(run: PurgeRun, parameter: RunParameter): ParameterPoints {
  const { series } = parameter;
  const all = usable(run, parameter);
  const window = chooseWindow(run.plan, run.moments, run.moments.length - 1, series);
  return {
    points: all.map(({ atMs, value }) => ({ time: atMs / 60_000, value })),
    display: {
      lastDigit: Math.min(...all.map((one) => one.lastDigit)),
      least: MAY_BE_NEGATIVE.has(series.parameter) ? -MOST : 0,
      most: MOST,
    },
    before: window.indices.slice(1 - run.plan.readingsNeeded).map((index) => series.values[index] as number),
  };
}
