import { type Refusal, refuse } from '../refusal.ts';

/** A well in the plane with its head. All three in feet: differences of one unit make a gradient without one. */
export interface HeadPoint {
  readonly eastFt: number;
  readonly northFt: number;
  readonly headFt: number;
}

/** Sums of squares and products of the coordinates about their middle. */
export interface Spread {
  readonly eastEast: number;
  readonly eastNorth: number;
  readonly northNorth: number;
}

/** The plane h = eastSlope x + northSlope y + c of least squares through the heads. */
export interface Plane {
  readonly wells: number;
  readonly eastSlope: number;
  readonly northSlope: number;
  /** The middle of the wells, through which the plane passes at their mean head. */
  readonly middle: HeadPoint;
  /** Head less plane, in the order of the wells. Three wells always fit exactly. */
  readonly residualsFt: readonly number[];
  /** Root of the squared residuals over wells less 3; null for three wells, which leave nothing to judge by. */
  readonly standardResidualFt: number | null;
  /** Share of the squares of the heads that the plane explains; null where all heads are equal. */
  readonly rSquared: number | null;
  readonly largestHeadDifferenceFt: number;
  /** Longest over shortest spread of the wells: 1 is even in all directions, large is nearly in a line. */
  readonly conditionNumber: number;
  readonly spread: Spread;
}

/** Beyond this the wells are a line: their spread across it is below a ten-thousandth of the spread along it. */
const A_LINE = 1e4;
/** Wells nearer to each other than a hundredth of a foot are one: no survey tells them apart. */
const ONE_PLACE_FT = 0.01;

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** A well about the middle of all. */
interface Centred {
  readonly east: number;
  readonly north: number;
  readonly head: number;
}

function total(wells: readonly Centred[], of: (well: Centred) => number): number {
  return wells.reduce((sum, well) => sum + of(well), 0);
}

/** Square root of the ratio of the two eigenvalues of the spread. */
function conditionOf({ eastEast, eastNorth, northNorth }: Spread): number {
  const half = (eastEast + northNorth) / 2;
  if (half < ONE_PLACE_FT ** 2) return Number.POSITIVE_INFINITY;
  const longest = half + Math.hypot((eastEast - northNorth) / 2, eastNorth);
  const shortest = (eastEast * northNorth - eastNorth * eastNorth) / longest;
  return shortest > 0 ? Math.sqrt(longest / shortest) : Number.POSITIVE_INFINITY;
}

function whyNot(points: readonly HeadPoint[]): Refusal | undefined {
  const broken = points.findIndex((one) => ![one.eastFt, one.northFt, one.headFt].every(Number.isFinite));
  if (broken >= 0)
    return refuse(`Well ${broken + 1} has a coordinate or head that is no finite number: give all three.`);
  if (points.length < 3)
    return refuse(`${points.length} wells make no plane: give at least 3 that do not stand in a line.`);
  return undefined;
}

/**
 * Plane of least squares through the heads of three or more wells, with what is needed to judge it: residuals, share
 * explained, and how nearly the wells stand in a line. Sums are taken about the middle of the wells, so that plane
 * coordinates of millions of feet cost no digits.
 *
 * Source: least squares; the form that reports R squared and the largest head difference is US EPA's on-line gradient
 * calculator for more than three wells. Limits: one water-bearing zone, one round, one datum; a plane is exact only for
 * one-dimensional confined flow (US EPA, on-line calculators of gradients). Wells in a line are refused, for they say
 * nothing of the slope across it.
 *
 * @example planeFit([{ eastFt: 0, northFt: 0, headFt: 10 }, { eastFt: 100, northFt: 0, headFt: 9 },
 *   { eastFt: 0, northFt: 100, headFt: 10 }]) // eastSlope: -0.01, northSlope: 0
 */
export function planeFit(points: readonly HeadPoint[]): Plane | Refusal {
  const reason = whyNot(points);
  if (reason) return reason;
  const heads = points.map((one) => one.headFt);
  const middle = {
    eastFt: mean(points.map((one) => one.eastFt)),
    northFt: mean(points.map((one) => one.northFt)),
    headFt: mean(heads),
  };
  const wells = points.map((one) => ({
    east: one.eastFt - middle.eastFt,
    north: one.northFt - middle.northFt,
    head: one.headFt - middle.headFt,
  }));
  const spread = {
    eastEast: total(wells, ({ east }) => east * east),
    eastNorth: total(wells, ({ east, north }) => east * north),
    northNorth: total(wells, ({ north }) => north * north),
  };
  const conditionNumber = conditionOf(spread);
  if (!(conditionNumber < A_LINE))
    return refuse(`These ${points.length} wells stand in a line or in one place: add one to the side of it.`);
  const slopes = slopesOf(spread, wells);
  return {
    wells: points.length,
    ...slopes,
    middle,
    ...judged(slopes, wells),
    largestHeadDifferenceFt: Math.max(...heads) - Math.min(...heads),
    conditionNumber,
    spread,
  };
}

type Slopes = Pick<Plane, 'eastSlope' | 'northSlope'>;

function slopesOf(spread: Spread, wells: readonly Centred[]): Slopes {
  const eastHead = total(wells, ({ east, head }) => east * head);
  const northHead = total(wells, ({ north, head }) => north * head);
  const determinant = spread.eastEast * spread.northNorth - spread.eastNorth ** 2;
  return {
    eastSlope: (spread.northNorth * eastHead - spread.eastNorth * northHead) / determinant,
    northSlope: (spread.eastEast * northHead - spread.eastNorth * eastHead) / determinant,
  };
}

function judged(
  { eastSlope, northSlope }: Slopes,
  wells: readonly Centred[],
): Pick<Plane, 'residualsFt' | 'standardResidualFt' | 'rSquared'> {
  const residualsFt = wells.map(({ east, north, head }) => head - eastSlope * east - northSlope * north);
  const left = residualsFt.reduce((sum, one) => sum + one * one, 0);
  const all = total(wells, ({ head }) => head * head);
  return {
    residualsFt,
    standardResidualFt: wells.length > 3 ? Math.sqrt(left / (wells.length - 3)) : null,
    rSquared: wells.some(({ head }) => head !== wells[0]?.head) ? 1 - left / all : null,
  };
}
