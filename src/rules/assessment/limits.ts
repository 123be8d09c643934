import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { wellVolumeMl } from './asked-volumes.ts';
import type { CallRecord } from './assessment-input.ts';
import { itemAt } from './item-at.ts';
import type { PurgeRun } from './purge-run.ts';
import type { Limit } from './read-plan-volumes.ts';
import { durationText } from './shortfall-text.ts';
import type { Placed } from './timeline.ts';
import type { WellGeometry } from './well-geometry.ts';

export type LimitStanding = NonNullable<AssessmentFields['limits']>[number];

/**
 * What the crew may do (US EPA Region 1, EQASOP-GW4, Rev. 4, 2017, from memory); the call records which.
 */
const CHOICES: NonNullable<LimitStanding['choices']> = [
  { decision: 'purging-continued', means: 'Keep purging until it is stable' },
  { decision: 'not-stable-stopped', means: 'Stop, take no sample, and document the attempts' },
  { decision: 'not-stable-sampled', means: 'Stop, take the sample, and document that it was not stable' },
];

/** So much of what the limit is of, in words. */
export function limitText({ of, limit }: Pick<LimitStanding, 'of' | 'limit'>): string {
  if (of === 'minutes') return durationText(Number(limit) * 60_000);
  return of === 'readings' ? `${limit} readings` : `${limit} well volumes`;
}

/** How much of what the limit is of there was at each reading; null where that is not known. */
function amountsOf(run: PurgeRun, of: Limit['of']): ((index: number) => number) | null {
  if (of === 'readings') return (index) => index + 1;
  if (of === 'minutes') return (index) => (itemAt(run.moments, index).atMs - itemAt(run.moments, 0).atMs) / 60_000;
  const volume = wellVolumeMl({ well: run.input.well, geometry: run.geometry as WellGeometry });
  if (!('ml' in volume) || (run.purgedMl.at(-1) ?? null) === null) return null;
  return (index) => (run.purgedMl[index] ?? 0) / volume.ml;
}

/** The call that records the choice: the first after the reading, or the last before it if that ended the purge. */
function choiceAt({ calls }: PurgeRun, atMs: number): CallRecord | undefined {
  const after = calls.find((call) => call.atMs >= atMs);
  if (after) return after.record;
  const before: Placed<CallRecord> | undefined = calls.at(-1);
  return before?.record.fields.decision === 'purging-continued' ? undefined : before?.record;
}

function addReached(run: PurgeRun, index: number, shown: LimitStanding): void {
  const { record, atMs } = itemAt(run.readings, index);
  const call = choiceAt(run, atMs);
  shown.status = 'reached';
  shown.reading = record.id;
  shown.reachedAt = record.fields.observed.at;
  shown.choices = CHOICES;
  if (call === undefined) {
    shown.because = `Not stable after ${limitText(shown)}: the crew chooses, and no call records what.`;
    return;
  }
  shown.call = call.id;
  shown.choice = call.fields.decision;
  shown.because = `Not stable after ${limitText(shown)}; a call records what the crew chose.`;
}

function standingOf(run: PurgeRun, { of, at, from }: Limit, heldFirst: number): LimitStanding {
  const { value, verified } = at;
  const shown: LimitStanding = { of, limit: value, from, verified, status: 'not-reached', because: '' };
  const amounts = amountsOf(run, of);
  if (amounts === null) {
    shown.status = 'not-known';
    shown.because = `${limitText(shown)} cannot be told: ${UNKNOWN}`;
    return shown;
  }
  const least = Number(value);
  const index = run.moments.findIndex((_, reading) => amounts(reading) >= least);
  const stableBefore = heldFirst >= 0 && (index < 0 || heldFirst <= index);
  if (stableBefore) shown.because = `It was stable before ${limitText(shown)}.`;
  else if (index < 0) shown.because = `Not yet at ${limitText(shown)}.`;
  else addReached(run, index, shown);
  return shown;
}

const UNKNOWN = 'record the casing, the depth of the well, the static level and what was drawn.';

/**
 * The limits after which the crew has to choose: whether, when and by which reading each was reached before the water
 * was ever stable, and which call records the choice.
 *
 * @param heldFirst the first reading at which the purge was stable, -1 where it never was
 */
export function limitsOf(run: PurgeRun, heldFirst: number): LimitStanding[] {
  return run.plan.options.limits.map((limit) => standingOf(run, limit, heldFirst));
}
