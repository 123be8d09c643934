import type { Held } from '../held.ts';

function validFrom(point: Held): number {
  return Date.parse(String(point.state.fields.validFrom));
}

/**
 * The measuring point that a depth taken at a time refers to: the newest one valid then. A point that corrects an
 * error applies back to the start of the point before it; a changed casing applies forward only.
 */
export function measuringPointAt(points: readonly Held[], at: string): Held | undefined {
  const standing = points.filter((point) => point.state.voided === null);
  const ordered = standing.toSorted((a, b) => validFrom(a) - validFrom(b) || (a.state.id < b.state.id ? -1 : 1));
  const starts = ordered.map((point, index) => {
    const before = ordered[index - 1];
    const corrects = point.state.fields.change === 'error-corrected' && before !== undefined;
    return corrects ? validFrom(before) : validFrom(point);
  });
  const moment = Date.parse(at);
  const index = starts.findLastIndex((start) => start <= moment);
  return ordered[index];
}
