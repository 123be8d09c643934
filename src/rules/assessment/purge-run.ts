import type { Criterion } from '../../catalog/criteria-set.ts';
import { type AskedVolumes, askedVolumes } from './asked-volumes.ts';
import type {
  AssessmentInput,
  CallRecord,
  LevelRecord,
  OccurrenceRecord,
  ReadingRecord,
  SetUpRecord,
} from './assessment-input.ts';
import { drawnMoments } from './drawn-moments.ts';
import { flowCellVolumes } from './flow-cell.ts';
import { type Arithmetics, asksFahrenheit, type Judge, readyJudge, saturationJudge } from './judge.ts';
import { type Moment, momentsOf } from './moments.ts';
import { purgedVolumes } from './purged-volume.ts';
import type { ReadPlan } from './read-plan.ts';
import { type Series, saturationSeries, seriesOf } from './series.ts';
import { type Placed, placeInTime } from './timeline.ts';
import { type WellGeometry, wellGeometry } from './well-geometry.ts';

/** A parameter of the criteria, with its values through the purge. */
export interface RunParameter {
  readonly criterion: Criterion;
  readonly series: Series;
  readonly judge: Judge;
  readonly required: boolean;
  /** The same parameter in percent of saturation, where the set lets it be met in that as well. */
  readonly inSaturation: RunParameter | null;
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
  /** Where plan or set need it: for volumes, and for a drawdown limited in percent. */
  readonly geometry: WellGeometry | null;
  /** Null where nothing must be drawn before or between readings. */
  readonly volumes: AskedVolumes | null;
}

type TimelineRecord = ReadingRecord | OccurrenceRecord | CallRecord | LevelRecord | SetUpRecord;

/** The records of a purge in the order of time, kind by kind. */
interface Sorted {
  readonly readings: Placed<ReadingRecord>[];
  readonly occurrences: Placed<OccurrenceRecord>[];
  readonly calls: Placed<CallRecord>[];
  readonly levels: Placed<LevelRecord>[];
  readonly setUps: Placed<SetUpRecord>[];
  /** Readings and occurrences together. */
  readonly watched: (Placed<ReadingRecord> | Placed<OccurrenceRecord>)[];
  readonly pumpingLevels: PumpingLevel[];
}

function addStanding<Kind extends TimelineRecord>(
  all: TimelineRecord[],
  records: readonly Kind[],
  parent: string,
): void {
  for (const record of records) {
    const { fields } = record;
    const standing = record.voided === null && ('purge' in fields ? fields.purge : fields.visit) === parent;
    if (standing) all.push(record);
  }
}

function timelineOf(input: AssessmentInput): Placed<TimelineRecord>[] {
  const all: TimelineRecord[] = [];
  addStanding(all, input.levels, input.visit.id);
  addStanding(all, input.setUps, input.visit.id);
  addStanding(all, input.readings, input.purge.id);
  addStanding(all, input.occurrences, input.purge.id);
  addStanding(all, input.calls, input.purge.id);
  return placeInTime(all);
}

function addPumpingLevel(levels: PumpingLevel[], depthFt: string | undefined, atMs: number): void {
  if (depthFt !== undefined) levels.push({ atMs, depthFt });
}

function isKind<Kind extends TimelineRecord>(entry: Placed<TimelineRecord>, kind: string): entry is Placed<Kind> {
  return entry.record.kind === kind;
}

function sortOut(timeline: readonly Placed<TimelineRecord>[]): Sorted {
  const sorted: Sorted = {
    readings: [],
    occurrences: [],
    calls: [],
    levels: [],
    setUps: [],
    watched: [],
    pumpingLevels: [],
  };
  for (const entry of timeline) {
    if (isKind<ReadingRecord>(entry, 'reading')) {
      sorted.readings.push(entry);
      sorted.watched.push(entry);
      addPumpingLevel(sorted.pumpingLevels, entry.record.fields.depthToWaterFt, entry.atMs);
    } else if (isKind<OccurrenceRecord>(entry, 'occurrence')) {
      sorted.occurrences.push(entry);
      sorted.watched.push(entry);
    } else if (isKind<LevelRecord>(entry, 'water-level')) {
      sorted.levels.push(entry);
      const { purpose, depthToWaterFt } = entry.record.fields;
      if (purpose === 'pumping') addPumpingLevel(sorted.pumpingLevels, depthToWaterFt, entry.atMs);
    } else if (isKind<CallRecord>(entry, 'call')) sorted.calls.push(entry);
    else sorted.setUps.push(entry as Placed<SetUpRecord>);
  }
  return sorted;
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
  const measured = levels.filter(({ record }) => record.fields.depthToWaterFt !== undefined);
  const before = measured.filter(({ record }) => record.fields.purpose === 'before-purge');
  const synoptic = measured.filter(({ record }) => record.fields.purpose === 'synoptic');
  const level = lastUpTo(before, firstReadingMs) ?? lastUpTo(synoptic, firstReadingMs);
  return level?.fields.depthToWaterFt ?? null;
}

function runParameter(readings: readonly Placed<ReadingRecord>[], criterion: Criterion, plan: ReadPlan): RunParameter {
  const { options } = plan;
  const { required } = options.parameters[criterion.parameter];
  const series = seriesOf(readings, criterion.parameter, options, asksFahrenheit(criterion));
  const judge = readyJudge(criterion, options, series.factor);
  const tolerance = criterion.orInPercentSaturation;
  if (tolerance === undefined) return { criterion, series, judge, required, inSaturation: null };
  const other = {
    criterion: { parameter: criterion.parameter, branches: [{ tolerance }] },
    series: saturationSeries(readings, options),
    judge: saturationJudge(tolerance, options),
  };
  return { criterion, series, judge, required, inSaturation: { ...other, required, inSaturation: null } };
}

function needsGeometry({ options }: ReadPlan): boolean {
  const { beforeFirstReading, betweenReadings, drawdown, limits } = options;
  if (beforeFirstReading !== null || betweenReadings !== null) return true;
  const byLength = drawdown.limitUnit !== 'ft' && drawdown.limitUnit !== 'm';
  return byLength || limits.some(({ of }) => of === 'well-volumes');
}

export function purgeRun(input: AssessmentInput, plan: ReadPlan): PurgeRun {
  const sorted = sortOut(timelineOf(input));
  const { readings, occurrences, calls, pumpingLevels } = sorted;
  const setUp = lastUpTo(sorted.setUps, readings.at(-1)?.atMs ?? Number.POSITIVE_INFINITY);
  const parameters = plan.set.criteria.map((criterion) => runParameter(readings, criterion, plan));
  const cellOf = flowCellVolumes(input.units, setUp);
  const series = parameters.flatMap(({ series: own, inSaturation }) =>
    inSaturation ? [own, inSaturation.series] : own,
  );
  const staticFt = staticLevel(sorted.levels, readings[0]?.atMs ?? Number.POSITIVE_INFINITY);
  const geometry = needsGeometry(plan) ? wellGeometry(input.well, setUp, staticFt) : null;
  const flowCellMl = cellOf(readings.at(-1)?.record.fields.meter);
  const sources = { well: input.well, setUp, flowCellMl, options: plan.options };
  const volumes = geometry === null ? null : askedVolumes({ ...sources, geometry });
  const atReadings = momentsOf(plan, sorted.watched, series, cellOf);
  const countsVolume = geometry !== null || plan.set.minimumPurge !== undefined;
  const purgedMl = countsVolume ? purgedVolumes(readings, occurrences, atReadings) : [];
  return {
    input,
    plan,
    by: { percent: plan.options.percentArithmetic, absolute: plan.options.absoluteArithmetic },
    readings,
    moments: volumes === null ? atReadings : drawnMoments(atReadings, purgedMl, volumes),
    parameters,
    occurrences,
    calls,
    pumpingLevels,
    staticFt,
    setUp,
    purgedMl,
    geometry,
    volumes,
  };
}
