import type { VisitBundle } from '../../visit-bundle.ts';
import type { AssessmentLike } from '../assessment-like.ts';
import { inObservedOrder } from './observed-order.ts';

type PurgeBundle = VisitBundle['purges'][number];

/** The latest call of a purge, if it says stable although the assessment saw no steady level. */
export function stableCallOnGrowingDrawdown(purge: PurgeBundle, assessment: AssessmentLike | undefined) {
  const latest = inObservedOrder(purge.calls).at(-1);
  const against = latest?.fields.decision === 'stable' && assessment?.conditions.drawdown.status === 'not-steady';
  return against ? latest : undefined;
}
