import { significantText } from '../../science/units/significant-text.ts';
import type { TrendGiven, TrendSlope } from './trend.ts';

export type TrendDirection = 'rising' | 'falling' | 'none-shown';

export interface TrendAnswer {
  readonly direction: TrendDirection;
  readonly method: string;
  readonly s: number;
  readonly z: string | null;
  readonly p: string;
  readonly tau: string | null;
  readonly slopePerYear: string | null;
  readonly slopePerYearFrom: string | null;
  readonly slopePerYearTo: string | null;
  readonly slopeUnit: string;
  readonly heterogeneityP: string | null;
  readonly reasons: string[];
}

/** The figures of a question that could not be answered. */
export const NO_TREND_FIGURES = {
  direction: null,
  method: null,
  s: null,
  z: null,
  p: null,
  tau: null,
  slopePerYear: null,
  slopePerYearFrom: null,
  slopePerYearTo: null,
  slopeUnit: null,
  heterogeneityP: null,
};

export interface TrendFigures {
  readonly trend: TrendGiven;
  readonly unit: string;
  readonly method: string;
  readonly test: { readonly s: number; readonly z: number | null; readonly p: number };
  readonly tau: number | null;
  readonly line: TrendSlope;
  readonly heterogeneityP: number | null;
  readonly notes: readonly string[];
}

const DIGITS = 4;

function textOf(value: number | null): string | null {
  return value === null ? null : significantText(value, DIGITS);
}

/** A slope of natural logarithms as the growth of a year in percent. */
function shown(slope: number | null, scale: TrendGiven['scale']): string | null {
  return textOf(slope === null || scale === 'raw' ? slope : 100 * Math.expm1(slope));
}

function directionOf({ test, trend }: TrendFigures): TrendDirection {
  if (test.p >= trend.significance) return 'none-shown';
  return test.s > 0 ? 'rising' : 'falling';
}

/** The answer in decimal strings, with the sentences that say how it came about. */
export function trendAnswer(figures: TrendFigures): TrendAnswer {
  const { trend, test, line } = figures;
  const direction = directionOf(figures);
  const p = significantText(test.p, DIGITS);
  const says = direction === 'none-shown' ? 'No trend is shown' : `The values are ${direction}`;
  return {
    direction,
    method: figures.method,
    s: test.s,
    z: textOf(test.z),
    p,
    tau: textOf(figures.tau),
    slopePerYear: shown(line.slope, trend.scale),
    slopePerYearFrom: shown(line.lower, trend.scale),
    slopePerYearTo: shown(line.upper, trend.scale),
    slopeUnit: trend.scale === 'raw' ? `${figures.unit} a year` : '% a year',
    heterogeneityP: textOf(figures.heterogeneityP),
    reasons: [
      `${says} at ${significantText(100 * trend.significance, DIGITS)} %: S is ${test.s} of ${trend.points.length} values, p is ${p} (${figures.method}).`,
      ...figures.notes,
      ...line.because,
    ],
  };
}
