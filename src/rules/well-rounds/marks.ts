import { measuringPointAt, pointsInOrder } from '../decide/measuring-point-at.ts';
import { millionths } from '../millionths.ts';
import type { MeasuringPoint } from './well-records.ts';

/** A mark on the casing: the points that say of one mark the same, each correcting the one before it. */
export interface Mark {
  readonly points: readonly string[];
  /** As the newest correction has them. */
  readonly elevationFt: string | undefined;
  readonly datum: string | undefined;
}

/** A corrected elevation is of the same mark: depths below it stand. A changed casing makes a new one. */
export function marksOf(points: readonly MeasuringPoint[]): readonly Mark[] {
  const marks: Mark[] = [];
  for (const { id, fields } of pointsInOrder(points)) {
    const { elevationFt, datum, change } = fields;
    const corrected = change === 'error-corrected' ? marks.pop() : undefined;
    marks.push({ points: [...(corrected?.points ?? []), id], elevationFt, datum });
  }
  return marks;
}

/** Below which mark a depth was measured: the point that it cites, or the one that was valid then. */
export function markOf(points: readonly MeasuringPoint[], cited: string | undefined, at: string): Mark | undefined {
  const point = cited ?? measuringPointAt(points, at)?.id;
  return point === undefined ? undefined : marksOf(points).find((mark) => mark.points.includes(point));
}

/** A depth below another mark, or why there is none. */
export type Converted = { readonly depthFt: string; readonly converted: boolean } | { readonly because: string };

function places(text: string): number {
  return text.split('.')[1]?.length ?? 0;
}

function moved(depthFt: string, fromFt: string, toFt: string): string {
  const sum = millionths(depthFt) + millionths(toFt) - millionths(fromFt);
  return (sum / 1e6).toFixed(Math.max(places(depthFt), places(fromFt), places(toFt)));
}

/**
 * What a depth below one mark is below another: deeper by as much as the other is higher.
 *
 * @param only whether the well has had one mark at most, so that there is no other to mix it up with
 */
export function depthBelow(depthFt: string, from: Mark | undefined, to: Mark | undefined, only: boolean): Converted {
  if (only || (from !== undefined && from.points[0] === to?.points[0])) return { depthFt, converted: false };
  if (from === undefined || to === undefined)
    return { because: 'It is not known whether it was measured below the measuring point of today.' };
  const [low, high] = [from.elevationFt, to.elevationFt];
  if (low === undefined || high === undefined || from.datum === undefined || from.datum !== to.datum)
    return {
      because:
        'It was measured below another measuring point, and the elevations of both in one datum are not recorded.',
    };
  return { depthFt: moved(depthFt, low, high), converted: true };
}
