import { type Refusal, refuse } from '../refusal.ts';
import type { Plane } from './plane-fit.ts';

export interface HorizontalGradient {
  /** Fall of head over distance, without unit. */
  readonly magnitude: number;
  /** What an error of the levels makes of the magnitude. */
  readonly magnitudeError: number;
  /** Where the water goes: clockwise from grid north, from 0 below 360; null where the plane is level. */
  readonly flowAzimuthDeg: number | null;
  /** What the same error makes of the direction, at most 180; null where the plane is level. */
  readonly azimuthErrorDeg: number | null;
}

const DEGREES = 180 / Math.PI;

/** Variance of the slope along a direction, for an error of 1 in each level, independent of the others. */
function varianceAlong({ spread }: Plane, east: number, north: number): number {
  const determinant = spread.eastEast * spread.northNorth - spread.eastNorth ** 2;
  return (
    (spread.northNorth * east * east - 2 * spread.eastNorth * east * north + spread.eastEast * north * north) /
    determinant
  );
}

/** A billionth of a foot: below it a slope is what binary numbers left over, and has no direction. */
const NOTHING_FT = 1e-9;

function isLevel({ spread, wells }: Plane, magnitude: number): boolean {
  return magnitude * Math.sqrt((spread.eastEast + spread.northNorth) / wells) < NOTHING_FT;
}

/** An azimuth from 0 below 360. */
export function fullCircle(degrees: number): number {
  return ((degrees % 360) + 360) % 360;
}

/**
 * Hydraulic gradient of a plane and the direction of flow, with what an error of the levels does to both. Flow goes down
 * the slope: the azimuth is that of MINUS the gradient, atan2(-a, -b) with x east and y north, clockwise from north; not
 * the mathematical angle, which counts the other way round from east.
 *
 * Source: least squares and its propagation of independent errors, first order. An error of 0.01 ft over 50 ft is 2e-4.
 * Limits: the ground conducts alike in all directions; grid north of the coordinates, not true north.
 *
 * @param levelErrorFt standard error of one level: reading, measuring point and plumb together
 * @example for heads of 30.0 m in the east and 30.6 m in the west corners of a hectare: 0.006 due east, 90 degrees
 */
export function horizontalGradient(plane: Plane, levelErrorFt: number): HorizontalGradient | Refusal {
  if (!(levelErrorFt >= 0)) return refuse(`A level error of ${levelErrorFt} ft is none: give 0 or more, such as 0.01.`);
  const { eastSlope, northSlope } = plane;
  const magnitude = Math.hypot(eastSlope, northSlope);
  if (isLevel(plane, magnitude)) {
    const steepest = Math.sqrt(Math.max(varianceAlong(plane, 1, 0), varianceAlong(plane, 0, 1)));
    return { magnitude, magnitudeError: levelErrorFt * steepest, flowAzimuthDeg: null, azimuthErrorDeg: null };
  }
  const [east, north] = [eastSlope / magnitude, northSlope / magnitude];
  const across = levelErrorFt * Math.sqrt(varianceAlong(plane, -north, east));
  return {
    magnitude,
    magnitudeError: levelErrorFt * Math.sqrt(varianceAlong(plane, east, north)),
    flowAzimuthDeg: fullCircle(Math.atan2(-eastSlope, -northSlope) * DEGREES),
    azimuthErrorDeg: Math.min(180, (across / magnitude) * DEGREES),
  };
}
