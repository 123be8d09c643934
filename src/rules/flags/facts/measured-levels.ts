import { millionths } from '../../millionths.ts';
import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence } from '../evidence.ts';
import type { Evidence } from '../raised-flag.ts';
import { inObservedOrder, observedMs } from './observed-order.ts';

/** A depth to water from a water level or from a line of the purge log. */
export interface MeasuredLevel {
  readonly atMs: number;
  /** As entered. */
  readonly at: string;
  readonly depthFt: string;
  readonly millionthsFt: number;
  readonly pumping: boolean;
  readonly evidence: Evidence;
}

type Level = VisitBundle['levels'][number];
type Reading = VisitBundle['purges'][number]['readings'][number];

function fromLevel(level: Level): readonly MeasuredLevel[] {
  const { state, depthToWaterFt, purpose } = level.fields;
  if (state !== 'measured' || depthToWaterFt === undefined) return [];
  return [measured(level, depthToWaterFt, purpose === 'pumping')];
}

function fromReading(reading: Reading): readonly MeasuredLevel[] {
  const { depthToWaterFt, overRange } = reading.fields;
  if (depthToWaterFt === undefined || overRange?.includes('depthToWaterFt')) return [];
  return [measured(reading, depthToWaterFt, true)];
}

function measured(record: Level | Reading, depthFt: string, pumping: boolean): MeasuredLevel {
  return {
    atMs: observedMs(record),
    at: record.fields.observed.at,
    depthFt,
    millionthsFt: millionths(depthFt),
    pumping,
    evidence: fieldEvidence<{ depthToWaterFt?: string | undefined }>(record, 'depthToWaterFt'),
  };
}

const known = new WeakMap<VisitBundle, readonly MeasuredLevel[]>();

/** Every depth to water of a visit, earliest first. Worked out once a bundle, for several rules look at it. */
export function measuredLevels(bundle: VisitBundle): readonly MeasuredLevel[] {
  const before = known.get(bundle);
  if (before !== undefined) return before;
  const levels = [
    ...bundle.levels.flatMap(fromLevel),
    ...bundle.purges.flatMap((purge) => purge.readings.flatMap(fromReading)),
  ].sort((a, b) => a.atMs - b.atMs || (a.evidence.record < b.evidence.record ? -1 : 1));
  known.set(bundle, levels);
  return levels;
}

/** The level before pumping: the latest one measured before the purge, or else of a synoptic round in this visit. */
export function staticLevel(bundle: VisitBundle): MeasuredLevel | undefined {
  const latest = (purpose: Level['fields']['purpose']) =>
    inObservedOrder(bundle.levels.filter((level) => level.fields.purpose === purpose))
      .flatMap(fromLevel)
      .at(-1);
  return latest('before-purge') ?? latest('synoptic');
}
