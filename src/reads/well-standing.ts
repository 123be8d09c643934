import { isOnlyGauged } from '../rules/well-order/ends-well.ts';
import type { ClaimRow } from '../store/read/event-status-claims.ts';
import type { VisitRow } from '../store/read/event-status-visits.ts';
import type { WellStanding } from './event-status-result.ts';

export interface Standing {
  readonly standing: WellStanding;
  readonly since: string | null;
  /** The visit that tells. */
  readonly visit: VisitRow | null;
}

function isSampled(visit: VisitRow): boolean {
  return visit.outcome === 'sampled' || (visit.outcome === null && visit.samples > 0);
}

/** A claim made before a visit that ended was for that visit. */
function isAfter(claim: ClaimRow, visit: VisitRow | undefined): boolean {
  return visit === undefined || Date.parse(claim.from) > Date.parse(visit.arrived);
}

/** How far an open visit has come. */
function atWork(visit: VisitRow): Standing {
  if (visit.purge === null) return { standing: 'gauging', since: visit.arrived, visit };
  if (visit.stable !== true) return { standing: 'purging', since: visit.began, visit };
  return { standing: 'stable', since: visit.firstHeldAt, visit };
}

/**
 * Where a well stands: sampled once any visit sampled it; otherwise as its latest visit says; otherwise claimed or not.
 *
 * @param visits those of the well, in the order of arrival
 * @param claims those that were not given back, earliest first
 */
export function wellStanding(visits: readonly VisitRow[], claims: readonly ClaimRow[], toSample: boolean): Standing {
  const sampled = visits.findLast(isSampled);
  if (sampled) {
    return { standing: 'sampled', since: sampled.firstSampleAt ?? sampled.left ?? sampled.arrived, visit: sampled };
  }
  // a round of levels before the sampling does not end a well that is to be sampled
  const latest = visits.findLast((visit) => !(toSample && isOnlyGauged(visit)));
  if (latest && latest.outcome === null) return atWork(latest);
  const [claim] = claims;
  if (claim && isAfter(claim, latest)) return { standing: 'claimed', since: claim.from, visit: null };
  if (latest) return { standing: 'ended', since: latest.left ?? latest.arrived, visit: latest };
  return { standing: 'not-started', since: null, visit: null };
}
