import type { VisitBundle } from '../../visit-bundle.ts';
import { inObservedOrder } from './observed-order.ts';
import { surelyBefore, type Timed } from './surely-before.ts';

type Call = VisitBundle['purges'][number]['calls'][number];
type Sample = VisitBundle['samples'][number];

export function callsInOrder(bundle: VisitBundle): readonly Call[] {
  return inObservedOrder(bundle.purges.flatMap((purge) => purge.calls));
}

function timedCall(call: Call): Timed {
  return { client: call.client, rev: call.rev, clock: call.clock, at: call.fields.observed.at };
}

function timedSample(sample: Sample): Timed {
  return { client: sample.client, rev: sample.rev, clock: sample.clock, at: sample.fields.collected };
}

/** The call that a sample was filled on: the latest one that the sample does not surely precede. */
export function callBefore(bundle: VisitBundle, sample: Sample): Call | undefined {
  return callsInOrder(bundle).findLast((call) => !surelyBefore(timedSample(sample), timedCall(call)));
}

/** A well that gives no more water is sampled once it has recovered, without stable readings: that is lawful. */
export function purgedDry(bundle: VisitBundle): boolean {
  const { outcome } = bundle.visit.fields;
  if (outcome === 'purged-dry' || outcome === 'insufficient-water' || outcome === 'dry') return true;
  return callsInOrder(bundle).some((call) => call.fields.decision === 'purged-dry');
}
