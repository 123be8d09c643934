import { crossingTime, type MovingLine, movingLine } from '../../science/forecast/crossing-time.ts';
import { type LatestLine, latestStraightLine } from '../../science/forecast/latest-straight-line.ts';
import type { LineFit } from '../../science/forecast/line-fit.ts';
import { placesOf } from '../../science/millionths.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { compareText, differenceText } from '../../science/units/decimal-arithmetic.ts';
import { placesText } from '../../science/units/significant-text.ts';

/** Nineteen in twenty, as is usual for such intervals. */
const CONFIDENCE = 0.95;
/** Two for the line and one for the scatter about it. */
const LEAST_LEVELS = 3;

export interface TimedLevel {
  /** On any axis; only differences of times matter. */
  readonly minutes: number;
  /** Below the measuring point. */
  readonly depthFt: string;
}

export interface LevelTarget {
  readonly at: 'screen-top' | 'intake';
  readonly depthFt: string;
}

/** When the water gets to a depth; minutes after the latest level. */
export interface LevelArrival {
  readonly at: LevelTarget['at'];
  readonly marginFt: string;
  /** The depth itself, less the margin above it. */
  readonly depthFt: string;
  /** From the latest level down to there; zero or negative where it was reached. */
  readonly distanceFt: string;
  readonly minutes: string;
  readonly earliestMin: string;
  readonly latestMin: string;
}

/** A falling level: how fast, by which levels, and when it gets where. */
export interface LevelForecast {
  readonly ftPerMin: number;
  /** Half the width of its interval. */
  readonly reachFtPerMin: number;
  /** The latest levels that lie on a line. */
  readonly levels: number;
  readonly arrivals: readonly LevelArrival[];
}

export type LevelDirection = 'falling' | 'steady' | 'rising' | 'not-known';

/** No forecast, and which way the level goes. */
export interface NoLevelForecast extends Refusal {
  readonly direction: Exclude<LevelDirection, 'falling'>;
  /** The depths that the water has reached already: that needs no rate. */
  readonly arrivals: readonly LevelArrival[];
}

/** The finest digit that was read: a tape that was read to 0.01 ft once was read to it always. */
function lastDigit(levels: readonly TimedLevel[]): number {
  return 10 ** -Math.max(...levels.map(({ depthFt }) => placesOf(depthFt)));
}

/** What binary numbers leave over of a whole minute. */
const NOTHING_MIN = 1e-6;

/** Rounded so that the crew is never told to have more time than it has. */
function down(minutes: number): string {
  return placesText(Math.floor(Math.max(0, minutes) + NOTHING_MIN), 0);
}

function placed({ depthFt: latestFt }: TimedLevel, { at, depthFt: targetFt }: LevelTarget, marginFt: string) {
  const depthFt = differenceText(targetFt, marginFt);
  return { at, marginFt, depthFt, distanceFt: differenceText(depthFt, latestFt) };
}

/** The depth, where the water is there already. */
function reached(latest: TimedLevel, target: LevelTarget, marginFt: string): LevelArrival[] {
  const place = placed(latest, target, marginFt);
  if (compareText(place.distanceFt, '0') > 0) return [];
  return [{ ...place, minutes: '0', earliestMin: '0', latestMin: '0' }];
}

function arrival(line: MovingLine, latest: TimedLevel, target: LevelTarget, marginFt: string): LevelArrival {
  const there = reached(latest, target, marginFt)[0];
  if (there !== undefined) return there;
  const place = placed(latest, target, marginFt);
  const { time, earliest, latest: last } = crossingTime(line, Number(place.depthFt));
  const latestMin = placesText(Math.ceil(Math.max(0, last - latest.minutes) - NOTHING_MIN), 0);
  return { ...place, minutes: down(time - latest.minutes), earliestMin: down(earliest - latest.minutes), latestMin };
}

function rateText({ slope, slopeReach }: LineFit): string {
  return `${placesText(Math.abs(slope), 4)} ft/min within ${placesText(slopeReach, 4)} either way`;
}

/** Where the line does not fall for certain: which way it goes, and in words. */
function otherWay({ line, values }: LatestLine): Pick<NoLevelForecast, 'direction' | 'refused'> {
  if (line.slope < -line.slopeReach)
    return {
      direction: 'rising',
      ...refuse(`The level rises (${rateText(line)}, from ${values} levels): it gets to no depth below.`),
    };
  const text = `No fall can be told from ${values} levels: ${rateText(line)} may as well be nothing. Keep measuring, for scatter can hide a slow fall.`;
  return { direction: 'steady', ...refuse(text) };
}

/**
 * When a pumping level gets to the top of the screen or to the intake, if it goes on falling as it did: the straight line
 * through the latest levels that lie on one, with the interval of its crossing.
 *
 * @param levels since the rate of pumping was last changed, in any order
 * @param marginFt how far above each depth one wants to stop
 */
export function levelForecast(
  levels: readonly TimedLevel[],
  targets: readonly LevelTarget[],
  marginFt: string,
): LevelForecast | NoLevelForecast {
  const sorted = levels.toSorted((a, b) => a.minutes - b.minutes);
  const latest = sorted.at(-1);
  const arrivals = latest === undefined ? [] : targets.flatMap((target) => reached(latest, target, marginFt));
  if (latest === undefined || sorted.length < LEAST_LEVELS) {
    const few = `${sorted.length} levels are too few for a rate with its uncertainty: it takes ${LEAST_LEVELS}.`;
    return { direction: 'not-known', arrivals, ...refuse(few) };
  }
  const points = sorted.map(({ minutes, depthFt }) => ({ time: minutes, value: Number(depthFt) }));
  const found = latestStraightLine(points, lastDigit(sorted), CONFIDENCE);
  if (isRefusal(found)) return { direction: 'not-known', arrivals, ...found };
  const line = movingLine(found.line);
  if (isRefusal(line) || line.moves === 'down') return { arrivals, ...otherWay(found) };
  return {
    ftPerMin: line.slope,
    reachFtPerMin: line.slopeReach,
    levels: found.values,
    arrivals: targets.map((target) => arrival(line, latest, target, marginFt)),
  };
}
