import { PARAMETER_NAMES } from '../../catalog/parameters.ts';
import { placesOf, powerOfTen, unscaled } from '../../science/decimal-text.ts';
import { type Ratio, ratioRoundedUp } from '../../science/ratio.ts';
import { extent } from '../../science/within/extent.ts';
import type { Finding } from './judge.ts';
import { FIELDS } from './parameter-reading.ts';
import type { PurgeRun, RunParameter } from './purge-run.ts';
import type { Series } from './series.ts';

/** Digits more than the values have that a converted temperature, or half of a spread, is shown with. */
const EXTRA_PLACES = 2;

/** A figure in the unit of the values as a decimal string; exact where the values are, else rounded up. */
function inUnit(series: Series, ratio: Ratio): string {
  const extra = series.factor === 9 ? EXTRA_PLACES : ratio.base === 2 ? 1 : 0;
  const base = ratio.base * series.factor * powerOfTen(series.places);
  const sign = ratio.difference < 0 ? '-' : '';
  return sign + ratioRoundedUp({ difference: Math.abs(ratio.difference), base }, 1, series.places + extra);
}

/** A value as it was compared: as entered, unless it was rounded first or converted to °C. */
export function valueText(run: PurgeRun, { series }: RunParameter, index: number): string {
  const value = series.values[index] ?? 0;
  if (series.factor === 9) return inUnit(series, { difference: value, base: 1 });
  if (run.plan.options.parameters[series.parameter].roundToPlaces !== null) return unscaled(value, series.places);
  const fields = run.readings[index]?.record.fields;
  const names = FIELDS[series.parameter];
  return names.map((name) => fields?.[name]).find((text) => text !== undefined) ?? unscaled(value, series.places);
}

export function unitOf({ series }: RunParameter): string {
  return series.parameter === 'turbidity' && series.unit === 1 ? 'FNU' : PARAMETER_NAMES[series.parameter].unit;
}

export function spreadText(series: Series, window: readonly number[]): string {
  const { smallest, largest } = extent(window);
  return inUnit(series, { difference: largest - smallest, base: 1 });
}

/** The middle value of a window; of an even number the mean of the middle two. */
export function medianText(series: Series, window: readonly number[]): string {
  const sorted = [...window].sort((a, b) => a - b);
  const upper = sorted[sorted.length >> 1] ?? 0;
  const lower = sorted[(sorted.length - 1) >> 1] ?? 0;
  if (sorted.length % 2 === 1) return inUnit(series, { difference: upper, base: 1 });
  return inUnit(series, { difference: lower + upper, base: 2 });
}

/** A ratio in percent, with the two digits after the point that set it apart from its limit. */
export function percentText(ratio: Ratio, limit: string): string {
  return ratioRoundedUp(ratio, 100, Math.max(2, placesOf(limit)));
}

export function comparedText(series: Series, finding: Finding): string | null {
  const { compared, figure, rule } = finding;
  if (compared === null || figure === null) return null;
  return rule === 'percent' ? percentText(compared, figure.value) : inUnit(series, compared);
}
