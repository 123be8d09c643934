import { belowCommonLimit } from '../../science/history/below-limit.ts';
import { type MannKendall, mannKendall, type TrendSide } from '../../science/history/mann-kendall.ts';
import { smallestP } from '../../science/history/smallest-p.ts';
import { theilSen } from '../../science/history/theil-sen.ts';
import { type TimedReport, theilSenRange } from '../../science/history/theil-sen-range.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';

/** Up to here p is exact, as Gilbert 1987 has it; the normal distribution above. */
export const EXACT_P_UP_TO = 10;
export const SLOPE_CONFIDENCE = 0.95;

export interface TrendPoint extends TimedReport {
  readonly season?: string | undefined;
}

export interface TrendGiven {
  /** Earliest first, on the scale that is tested. */
  readonly points: readonly TrendPoint[];
  readonly scale: 'raw' | 'log';
  readonly side: TrendSide;
  /** Between 0 and 1. */
  readonly significance: number;
}

export interface TrendTested {
  readonly test: MannKendall;
  readonly nonDetects: number;
  readonly measuredBelow: number;
}

/** Slope per year on the tested scale; ends are null where none can be given, and `because` says why. */
export interface TrendSlope {
  readonly slope: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly because: readonly string[];
}

/**
 * Whether the values rise or fall: exact up to ten values, non-detects tied below the highest limit. Refused where so
 * few values could not show a trend however clear it was.
 */
export function testTrend({ points, side, significance }: TrendGiven): TrendTested | Refusal {
  const tied = belowCommonLimit(points);
  if (isRefusal(tied)) return tied;
  const count = points.length;
  const test = mannKendall(tied.ordered, { distribution: count <= EXACT_P_UP_TO ? 'exact' : 'normal', side });
  if (isRefusal(test)) return test;
  const best = smallestP({ count, tieSizes: test.tieSizes, side });
  if (!isRefusal(best) && best >= significance)
    return refuse(
      `${count} values${test.tieSizes.length > 0 ? ', some of them alike,' : ''} cannot show a trend at ${significance} (${side}), however clear: the least p that they can reach is ${best.toFixed(3)}. More rounds are needed.`,
    );
  return { test, nonDetects: tied.nonDetects, measuredBelow: tied.measuredBelow };
}

/** A sure line where everything was measured, otherwise the range that the non-detects leave, or the reason for none. */
export function slopeOfTrend({ points, scale }: TrendGiven): TrendSlope {
  if (points.some((point) => point.nonDetect)) {
    const range = theilSenRange(points, scale === 'log' ? Number.NEGATIVE_INFINITY : 0);
    if (isRefusal(range)) return { slope: null, lower: null, upper: null, because: [`No slope: ${range.refused}`] };
    const sure = range.least === range.most;
    const because = sure
      ? ['Whatever the non-detects are, the slope is the same.']
      : ['The non-detects leave the slope open between the two ends; they are no confidence interval.'];
    return { slope: sure ? range.least : null, lower: range.least, upper: range.most, because };
  }
  const line = theilSen(points, SLOPE_CONFIDENCE);
  if (isRefusal(line)) return { slope: null, lower: null, upper: null, because: [`No slope: ${line.refused}`] };
  return isRefusal(line.interval)
    ? { slope: line.slope, lower: null, upper: null, because: [line.interval.refused] }
    : { slope: line.slope, ...line.interval, because: [`The ends are of ${SLOPE_CONFIDENCE * 100} % confidence.`] };
}
