import { type Refusal, refuse } from '../refusal.ts';

/** A refusal where a row is too short or one of its values is no number; undefined where it can be worked with. */
export function unusableRow(values: readonly number[], least: number): Refusal | undefined {
  const at = values.findIndex((value) => !Number.isFinite(value));
  if (at >= 0) return refuse(`Value ${at + 1} is ${values[at]}, no number: leave it out or give what was measured.`);
  return values.length < least
    ? refuse(`${values.length} value(s) are too few: at least ${least} are needed.`)
    : undefined;
}

/** Sorted as numbers; a typed array does it several times as fast, which counts for the slopes of all pairs. */
export function ascending(values: readonly number[]): number[] {
  return Array.from(Float64Array.from(values).sort());
}
