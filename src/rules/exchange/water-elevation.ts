import { millionths } from '../millionths.ts';
import { markOf } from '../well-rounds/marks.ts';
import type { MeasuringPoint } from '../well-rounds/well-records.ts';

/** A depth to water with the point that it was measured from. */
export interface LevelSeen {
  readonly depthToWaterFt?: string | undefined;
  readonly measuringPoint?: string | undefined;
  readonly at: string;
}

export interface WaterElevation {
  /** The mark that the depth is below, in words; null where none is known. */
  readonly point: string | null;
  readonly elevationFt: string | null;
  readonly datum: string | null;
  /** Elevation of the mark less the depth, with as many places as the finer of the two. */
  readonly waterElevationFt: string | null;
}

function places(text: string): number {
  return text.split('.')[1]?.length ?? 0;
}

/**
 * The elevation of the water: that of the measuring point less the depth below it, exactly in decimal.
 *
 * Source: a procedure for water levels, county file, doc 919545, page 366 (elevation of the mark less the depth).
 *
 * @param points of the well that stand
 * @example a mark at 612.34 ft and a depth of 12.3 ft: 600.04
 */
export function waterElevation(points: readonly MeasuringPoint[], level: LevelSeen): WaterElevation {
  const mark = markOf(points, level.measuringPoint, level.at);
  const newest = points.find(({ id }) => id === mark?.points.at(-1));
  const elevationFt = mark?.elevationFt ?? null;
  const { depthToWaterFt: depth } = level;
  const waterElevationFt =
    elevationFt === null || depth === undefined
      ? null
      : ((millionths(elevationFt) - millionths(depth)) / 1e6).toFixed(Math.max(places(elevationFt), places(depth)));
  return { point: newest?.fields.description ?? null, elevationFt, datum: mark?.datum ?? null, waterElevationFt };
}
