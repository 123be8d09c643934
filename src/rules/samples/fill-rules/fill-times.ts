import { instantMs } from '../../../science/instant-ms.ts';
import { inObservedOrder } from '../../flags/facts/observed-order.ts';
import { surelyBefore, type Timed } from '../../flags/facts/surely-before.ts';
import type { CallRecord, FillRecord, SampleRecord, VisitRecord } from '../sample-records.ts';
import type { SampleFacts } from './sample-facts.ts';

type Stamped = Pick<FillRecord, 'client' | 'rev' | 'clock'>;

export function timed({ client, rev, clock }: Stamped, at: string): Timed {
  return { client, rev, clock, at };
}

/** When water began to run into it, as exactly as it is known. */
export function beganAt({ fields }: FillRecord): string {
  return fields.began ?? fields.collected;
}

export function timedFill(fill: FillRecord): Timed {
  return timed(fill, beganAt(fill));
}

/** A time so many hours later by the same clock. */
export function hoursLater(time: Timed, hours: number): Timed {
  return { ...time, at: new Date(instantMs(time.at) + hours * 3_600_000).toISOString() };
}

function timedCall(call: CallRecord): Timed {
  return timed(call, call.fields.observed.at);
}

/** Whether somebody had decided by then to take water: the latest call that it does not surely precede says so. */
export function isCalledBy({ calls }: SampleFacts, time: Timed): boolean {
  const last = inObservedOrder(calls).findLast((call) => !surelyBefore(time, timedCall(call)));
  return last !== undefined && last.fields.decision !== 'purging-continued';
}

export function timedSample(sample: SampleRecord): Timed {
  return timed(sample, sample.fields.collected);
}

const DRY: readonly VisitRecord['fields']['outcome'][] = ['purged-dry', 'insufficient-water', 'dry'];

/** A well that gives no more water is sampled once it has recovered. */
export function isPurgedDry({ visit, calls }: SampleFacts): boolean {
  return (
    visit?.fields.method === 'dry-well' ||
    DRY.includes(visit?.fields.outcome) ||
    calls.some(({ fields }) => fields.decision === 'purged-dry')
  );
}

/** When pumping before the sample was over: as its purge says, else by the last call that did not go on; null while it goes on. */
export function purgeEnd({ purges, calls }: SampleFacts): Timed | null {
  const ends = purges.flatMap((purge) => (purge.fields.ended === undefined ? [] : [timed(purge, purge.fields.ended)]));
  const called = calls.filter(({ fields }) => fields.decision !== 'purging-continued').map(timedCall);
  const known = ends.length > 0 ? ends : called;
  return known.toSorted((a, b) => instantMs(a.at) - instantMs(b.at)).at(-1) ?? null;
}
