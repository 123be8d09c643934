import { z } from 'zod';
import { id, instant } from '../../protocol/primitives.ts';
import { depthBelow, type Mark, markOf, marksOf } from './marks.ts';
import type { VisitSummary, WellRecords } from './well-records.ts';

/** The depths of a summary, and which of its points each of them is below. */
const DEPTHS = {
  depthToWaterFt: 'measuringPoint',
  lowestDepthToWaterFt: 'measuringPoint',
  intakeDepthFt: 'measuringPoint',
  depthToBottomFt: 'bottomMeasuringPoint',
} as const;
export type DepthField = keyof typeof DEPTHS;
const DEPTH_FIELDS = Object.keys(DEPTHS) as DepthField[];

export function isDepth(field: string): field is DepthField {
  return field in DEPTHS;
}

/** A depth of an earlier visit that cannot be compared with those of today. */
export const leftOut = z.strictObject({
  visit: id,
  arrived: instant,
  field: z.enum(DEPTH_FIELDS),
  depthFt: z.string().describe('As recorded then'),
  because: z.string(),
});
export type LeftOut = z.output<typeof leftOut>;

/** From where the depths of today are measured. */
export interface Today {
  /** The point that is cited today; the one that is valid at `at` where not given. */
  readonly measuringPoint?: string | undefined;
  /** Now, with offset. */
  readonly at: string;
}

/** A summary whose depths are below the measuring point of today. */
export interface RoundToday {
  readonly round: VisitSummary;
  readonly converted: boolean;
  readonly leftOut: readonly LeftOut[];
}

function ofToday(round: VisitSummary, { points }: WellRecords, today: Mark | undefined, only: boolean): RoundToday {
  const depths: Partial<Record<DepthField, string | undefined>> = {};
  const left: LeftOut[] = [];
  let anyConverted = false;
  for (const field of DEPTH_FIELDS) {
    const depthFt = round[field];
    if (depthFt === undefined) continue;
    const found = depthBelow(depthFt, markOf(points, round[DEPTHS[field]], round.arrived), today, only);
    depths[field] = 'because' in found ? undefined : found.depthFt;
    if ('because' in found)
      left.push({ visit: round.visit, arrived: round.arrived, field, depthFt, because: found.because });
    else anyConverted ||= found.converted;
  }
  return { round: { ...round, ...depths }, converted: anyConverted, leftOut: left };
}

/** Every round with its depths below the measuring point of today; what cannot be converted is left out with its reason. */
export function roundsToday(records: WellRecords, { measuringPoint, at }: Today): readonly RoundToday[] {
  const { points, summaries } = records;
  const marks = marksOf(points);
  const today = markOf(points, measuringPoint, at);
  const only = marks.length === 0 || (marks.length === 1 && today !== undefined);
  return summaries.map((round) => ofToday(round, records, today, only));
}

/** What the answer says of depths that were moved. */
export function convertedText(rounds: readonly RoundToday[]): string[] {
  const count = rounds.filter((round) => round.converted).length;
  return count === 0
    ? []
    : [
        `Depths of ${count} earlier visit(s) were measured below another measuring point and are converted by the elevations of both.`,
      ];
}
