import type { VisitBundle } from '../../visit-bundle.ts';
import type { AssessmentLike } from '../assessment-like.ts';
import { fieldEvidence } from '../evidence.ts';
import type { Evidence } from '../raised-flag.ts';
import { inObservedOrder } from './observed-order.ts';

type PurgeBundle = VisitBundle['purges'][number];

export interface DrawdownAgainstCall {
  readonly because: string;
  readonly evidence: readonly Evidence[];
}

/** Where the latest call of a purge says stable and the assessment sees no steady level: what it says of the level. */
export function drawdownAgainstCall(
  { purge, calls }: PurgeBundle,
  assessment: AssessmentLike | undefined,
): DrawdownAgainstCall | undefined {
  const latest = inObservedOrder(calls).at(-1);
  const drawdown = assessment?.conditions.drawdown;
  if (latest?.fields.decision !== 'stable' || drawdown?.status !== 'not-steady') return undefined;
  const seen = { record: purge.id, field: 'assessment', shows: 'drawdown not steady' };
  return { because: drawdown.because, evidence: [fieldEvidence(latest, 'decision'), seen] };
}
