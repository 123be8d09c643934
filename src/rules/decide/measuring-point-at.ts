import type { Held } from '../held.ts';

function validFrom(point: Held): number {
  return Date.parse(String(point.state.fields.validFrom));
}

/** From when each point applies: a corrected error from where the point that it corrects did, however often. */
function starts(ordered: readonly Held[]): number[] {
  const from: number[] = [];
  for (const point of ordered) {
    const corrects = point.state.fields.change === 'error-corrected';
    from.push((corrects ? from.at(-1) : undefined) ?? validFrom(point));
  }
  return from;
}

/**
 * The measuring point that a depth taken at a time refers to: the newest one valid then. A point that corrects an
 * error applies back to the start of the point before it; a changed casing applies forward only.
 */
export function measuringPointAt(points: readonly Held[], at: string): Held | undefined {
  const standing = points.filter((point) => point.state.voided === null);
  const ordered = standing.toSorted((a, b) => validFrom(a) - validFrom(b) || (a.state.id < b.state.id ? -1 : 1));
  const moment = Date.parse(at);
  const index = starts(ordered).findLastIndex((start) => start <= moment);
  return ordered[index];
}
