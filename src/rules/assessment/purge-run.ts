import type { Criterion } from '../../catalog/criteria-set.ts';
import type {
  AssessmentInput,
  CallRecord,
  LevelRecord,
  OccurrenceRecord,
  ReadingRecord,
  SetUpRecord,
} from './assessment-input.ts';
import { flowCellVolumes } from './flow-cell.ts';
import { type Arithmetics, type Judge, placesNeeded, readyJudge } from './judge.ts';
import { type Moment, momentsOf } from './moments.ts';
import { purgedVolumes } from './purged-volume.ts';
import type { ReadPlan } from './read-plan.ts';
import { type Series, seriesOf } from './series.ts';
import { type Placed, placeInTime } from './timeline.ts';

/** A parameter of the criteria, with its values through the purge. */
export interface RunParameter {
  readonly criterion: Criterion;
  readonly series: Series;
  readonly judge: Judge;
  readonly required: boolean;
}

/** A pumping level: of a reading, or measured on its own. */
export interface PumpingLevel {
  readonly atMs: number;
  readonly depthFt: string;
}

/** A purge made ready to be judged at any of its readings: parsed once, placed in time, interruptions noted. */
export interface PurgeRun {
  readonly input: AssessmentInput;
  readonly plan: ReadPlan;
  readonly by: Arithmetics;
  readonly readings: readonly Placed<ReadingRecord>[];
  readonly moments: readonly Moment[];
  readonly parameters: readonly RunParameter[];
  readonly occurrences: readonly Placed<OccurrenceRecord>[];
  readonly calls: readonly Placed<CallRecord>[];
  readonly pumpingLevels: readonly PumpingLevel[];
  readonly staticFt: string | null;
  readonly setUp: SetUpRecord | null;
  /** Water drawn up to each reading, in mL; null where neither a volume nor a flow was read yet. */
  readonly purgedMl: readonly (number | null)[];
}

type TimelineRecord = ReadingRecord | OccurrenceRecord | CallRecord | LevelRecord | SetUpRecord;

function ofPurge<Kind extends { voided: unknown; fields: { purge: string } }>(records: readonly Kind[], purge: string) {
  return records.filter((record) => record.voided === null && record.fields.purge === purge);
}

function ofVisit<Kind extends { voided: unknown; fields: { visit: string } }>(records: readonly Kind[], visit: string) {
  return records.filter((record) => record.voided === null && record.fields.visit === visit);
}

function timelineOf(input: AssessmentInput): Placed<TimelineRecord>[] {
  const purge = input.purge.id;
  const visit = input.visit.id;
  return placeInTime<TimelineRecord>([
    ...ofPurge(input.readings, purge),
    ...ofPurge(input.occurrences, purge),
    ...ofPurge(input.calls, purge),
    ...ofVisit(input.levels, visit),
    ...ofVisit(input.setUps, visit),
  ]);
}

function only<Kind extends TimelineRecord>(timeline: readonly Placed<TimelineRecord>[], kind: Kind['kind']) {
  return timeline.filter((entry) => entry.record.kind === kind) as unknown as Placed<Kind>[];
}

/** The last one not later than a moment; where all were noted later, the first of them. */
function lastUpTo<Kind extends TimelineRecord>(placed: readonly Placed<Kind>[], atMs: number): Kind | null {
  return (placed.findLast((entry) => entry.atMs <= atMs) ?? placed[0])?.record ?? null;
}

/**
 * The level that drawdown is counted from: the last one measured before the purge, so with the pump already in the well
 * where the crew gauged again; without one, the level of the synoptic round.
 */
function staticLevel(levels: readonly Placed<LevelRecord>[], firstReadingMs: number): string | null {
  const measured = levels.filter(({ record }) => record.fields.state === 'measured' && record.fields.depthToWaterFt);
  const before = measured.filter(({ record }) => record.fields.purpose === 'before-purge');
  const synoptic = measured.filter(({ record }) => record.fields.purpose === 'synoptic');
  const level = lastUpTo(before, firstReadingMs) ?? lastUpTo(synoptic, firstReadingMs);
  return level?.fields.depthToWaterFt ?? null;
}

function pumpingLevels(timeline: readonly Placed<TimelineRecord>[]): PumpingLevel[] {
  const levels: PumpingLevel[] = [];
  for (const { record, atMs } of timeline) {
    const depthFt = 'depthToWaterFt' in record.fields ? record.fields.depthToWaterFt : undefined;
    const pumping = 'purpose' in record.fields ? record.fields.purpose === 'pumping' : true;
    if (depthFt !== undefined && pumping) levels.push({ atMs, depthFt });
  }
  return levels;
}

function runParameter(readings: readonly Placed<ReadingRecord>[], criterion: Criterion, plan: ReadPlan): RunParameter {
  const { options } = plan;
  const series = seriesOf(readings, criterion.parameter, options, placesNeeded(criterion, options));
  const judge = readyJudge(criterion, options, series.places, series.factor);
  return { criterion, series, judge, required: options.parameters[criterion.parameter].required };
}

export function purgeRun(input: AssessmentInput, plan: ReadPlan): PurgeRun {
  const timeline = timelineOf(input);
  const readings = only<ReadingRecord>(timeline, 'reading');
  const occurrences = only<OccurrenceRecord>(timeline, 'occurrence');
  const setUp = lastUpTo(only<SetUpRecord>(timeline, 'pump-set-up'), readings.at(-1)?.atMs ?? Number.POSITIVE_INFINITY);
  const watched = timeline.filter(({ record }) => record.kind === 'reading' || record.kind === 'occurrence');
  const moments = momentsOf(
    plan,
    watched as unknown as Parameters<typeof momentsOf>[1],
    flowCellVolumes(input.units, setUp),
  );
  return {
    input,
    plan,
    by: { percent: plan.options.percentArithmetic, absolute: plan.options.absoluteArithmetic },
    readings,
    moments,
    parameters: plan.set.criteria.map((criterion) => runParameter(readings, criterion, plan)),
    occurrences,
    calls: only<CallRecord>(timeline, 'call'),
    pumpingLevels: pumpingLevels(timeline),
    staticFt: staticLevel(only<LevelRecord>(timeline, 'water-level'), readings[0]?.atMs ?? Number.POSITIVE_INFINITY),
    setUp,
    purgedMl: plan.set.minimumPurge ? purgedVolumes(readings, occurrences, moments) : [],
  };
}
