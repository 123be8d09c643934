import { millionthsText, placesOf } from '../../science/millionths.ts';
import { type Ratio, ratioRoundedUp } from '../../science/ratio.ts';
import { extent } from '../../science/within/extent.ts';
import type { Window } from './choose-window.ts';
import { itemAt } from './item-at.ts';
import type { Finding } from './judge.ts';
import type { Quantity } from './parameter-reading.ts';
import type { PurgeRun, RunParameter } from './purge-run.ts';
import type { Series } from './series.ts';

const MILLION = 1_000_000;
/** Places with which a temperature is shown that was converted and does not come out even. */
const CONVERTED_PLACES = 3;

/** A figure in the unit of the values as a decimal string: exact where the values are, otherwise rounded up. */
function inUnit(series: Series, ratio: Ratio, places: number): string {
  const sign = ratio.difference < 0 ? '-' : '';
  const base = ratio.base * series.factor * MILLION;
  return sign + ratioRoundedUp({ difference: Math.abs(ratio.difference), base }, 1, places);
}

/** A value as it was compared: as entered, unless it was rounded first or converted to °C. */
function valueText(run: PurgeRun, series: Series, index: number): string {
  const { fields } = itemAt(run.readings, index).record;
  const entered = (series.quantities[index] as Quantity).of(fields) as string;
  const value = itemAt(series.values, index);
  if (series.factor === 9) return inUnit(series, { difference: value, base: 1 }, CONVERTED_PLACES);
  const { roundToPlaces } = series;
  return roundToPlaces === null ? entered : millionthsText(value, Math.min(roundToPlaces, placesOf(entered)));
}

export function valueTexts(run: PurgeRun, series: Series, window: Window): string[] {
  return window.indices.map((index) => valueText(run, series, index));
}

/** The unit of the values of a window: that of the meter, but degrees Celsius for every temperature. */
export function unitOf({ series }: RunParameter, window: Window): string {
  if (series.parameter !== 'turbidity') return series.unit;
  return series.quantities[window.indices.at(-1) ?? 0]?.unit ?? series.unit;
}

/** What is shown of a window, with as many places as its values have. */
export interface ShownFigures {
  readonly spread: string;
  readonly median: string;
  readonly compared: string | null;
}

function mostPlaces(texts: readonly string[]): number {
  let most = 0;
  for (const text of texts) most = Math.max(most, placesOf(text));
  return most;
}

/** The middle value of a window; of an even number the mean of the middle two. */
function median(window: readonly number[]): Ratio {
  const sorted = [...window].sort((a, b) => a - b);
  const upper = itemAt(sorted, sorted.length >> 1);
  const lower = itemAt(sorted, (sorted.length - 1) >> 1);
  return { difference: lower + upper, base: 2 };
}

export function medianText(series: Series, window: readonly number[], texts: readonly string[]): string {
  return inUnit(series, median(window), mostPlaces(texts) + (window.length % 2 === 0 ? 1 : 0));
}

export function spreadText(series: Series, window: readonly number[], texts: readonly string[]): string {
  const { smallest, largest } = extent(window);
  return inUnit(series, { difference: largest - smallest, base: 1 }, mostPlaces(texts));
}

/** A ratio in percent, with the two digits after the point that set it apart from its limit. */
export function percentText(ratio: Ratio, limit: string): string {
  return ratioRoundedUp(ratio, 100, Math.max(2, placesOf(limit)));
}

/** A difference of temperatures in degrees Fahrenheit: nine fifths of that in degrees Celsius. */
function inFahrenheit({ difference, base }: Ratio): Ratio {
  return { difference: 9 * difference, base: 5 * base };
}

/** What stood against the limit, so that beside the limit it shows on which side of it it is. */
export function comparedText(series: Series, finding: Finding, texts: readonly string[]): string | null {
  const { compared, figure, rule, tolerance } = finding;
  if (compared === null || figure === null) return null;
  if (rule === 'percent') return percentText(compared, figure.value);
  if (tolerance?.unit === '°F') return inUnit(series, inFahrenheit(compared), CONVERTED_PLACES);
  const half = compared.base === 2 ? 1 : 0;
  return inUnit(series, compared, Math.max(mostPlaces(texts) + half, placesOf(figure.value)));
}
