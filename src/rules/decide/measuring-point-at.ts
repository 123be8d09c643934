import type { RecordState } from '../../protocol/record.ts';

type Point = Pick<RecordState, 'id' | 'voided'> & {
  readonly fields: { readonly validFrom?: unknown; readonly change?: unknown };
};

function validFrom(point: Point): number {
  return Date.parse(String(point.fields.validFrom));
}

/** The points that stand, in the order in which they came to apply. */
export function pointsInOrder<One extends Point>(points: readonly One[]): readonly One[] {
  const standing = points.filter((point) => point.voided === null);
  return standing.toSorted((a, b) => validFrom(a) - validFrom(b) || (a.id < b.id ? -1 : 1));
}

/** From when each point applies: a corrected error from where the point that it corrects did, however often. */
function starts(ordered: readonly Point[]): number[] {
  const from: number[] = [];
  for (const point of ordered) {
    const corrects = point.fields.change === 'error-corrected';
    from.push((corrects ? from.at(-1) : undefined) ?? validFrom(point));
  }
  return from;
}

/**
 * The measuring point that a depth taken at a time refers to: the newest one valid then. A point that corrects an
 * error applies back to the start of the point before it; a changed casing applies forward only.
 */
export function measuringPointAt<One extends Point>(points: readonly One[], at: string): One | undefined {
  const ordered = pointsInOrder(points);
  const moment = Date.parse(at);
  const index = starts(ordered).findLastIndex((start) => start <= moment);
  return ordered[index];
}

/**
 * Since when depths of a well are measured from the point of today, in ms since 1970: what was measured before is not
 * comparable with them. Null where there was never another point.
 */
export function presentPointSinceMs(points: readonly Point[]): number | null {
  const all = starts(pointsInOrder(points));
  const since = all.at(-1);
  return since === undefined || since === all[0] ? null : since;
}
