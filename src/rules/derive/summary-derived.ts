import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { derivedId } from '../derived-id.ts';
import type { Held } from '../held.ts';
import type { VisitBundle } from '../visit-bundle.ts';
import { lastPurge, lastRound } from '../well-history/last-round.ts';
import type { Derived } from './derived.ts';

/** A visit that goes on changes with every reading, and nobody is its next crew yet. */
function hasEnded({ visit }: VisitBundle): boolean {
  return visit.fields.outcome !== undefined || visit.fields.left !== undefined;
}

/**
 * The summary of a visit that ended, beside its well: where the visit goes to another well, it goes along, into the feed
 * of another site if need be.
 */
export function summaryDerived(
  firm: string,
  bundle: VisitBundle,
  well: Held,
  assessed: ReadonlyMap<string, AssessmentFields>,
): Derived[] {
  const run = lastPurge(bundle);
  const summary = hasEnded(bundle) ? lastRound(bundle, run && assessed.get(run.purge.id)) : null;
  if (summary === null) return [];
  const { visit } = summary;
  const fields = { well: well.state.id, ...summary };
  const place = { feed: well.feed, parent: well.state.id, visit };
  return [{ kind: 'visit-summary', id: derivedId(firm, 'visit-summary', visit), fields, ...place }];
}
