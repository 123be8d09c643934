import type { WellClaim } from './claim-record.ts';

type ById = ReadonlyMap<string, WellClaim>;

function relieved(claim: WellClaim, byId: ById): ReadonlySet<string> {
  const line = new Set<string>();
  let next = claim.fields.handedOverFrom;
  while (next !== undefined && !line.has(next)) {
    line.add(next);
    next = byId.get(next)?.fields.handedOverFrom;
  }
  return line;
}

/**
 * Whether one crew relieved the other, directly or through crews between them: one purge in parts, and no rivalry. A
 * voided claim still passes the line on.
 */
export function inOneReliefLine(a: WellClaim, b: WellClaim, byId: ById): boolean {
  return relieved(a, byId).has(b.id) || relieved(b, byId).has(a.id);
}
