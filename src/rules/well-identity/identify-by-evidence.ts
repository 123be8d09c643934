import { casingEvidence } from './casing-evidence.ts';
import { depthEvidence } from './depth-evidence.ts';
import type { Evidence, WellCandidate, WellMeasured } from './evidence.ts';
import { levelEvidence } from './level-evidence.ts';
import { stickUpEvidence } from './stick-up-evidence.ts';

export interface WeighedWell {
  readonly well: WellCandidate;
  /**
   * `fits`: something agrees and nothing speaks against it; `doubtful`: something agrees, something else may be
   * explained; `contradicted`: it cannot be; `unknown`: nothing agrees and nothing contradicts.
   */
  readonly stands: 'fits' | 'doubtful' | 'contradicted' | 'unknown';
  readonly evidence: readonly Evidence[];
}

export interface WellIdentity {
  readonly fits: 'this' | 'other' | 'undecided' | 'none' | 'unknown';
  /** The wells that it can be, by name. */
  readonly could: readonly WeighedWell[];
  /** Every candidate with its evidence, the supposed one first and the others by name. */
  readonly weighed: readonly WeighedWell[];
}

const WAYS = [depthEvidence, casingEvidence, stickUpEvidence, levelEvidence];

function stands(findings: readonly Evidence['finding'][]): WeighedWell['stands'] {
  if (findings.includes('contradicts')) return 'contradicted';
  if (!findings.includes('agrees')) return 'unknown';
  return findings.includes('doubts') ? 'doubtful' : 'fits';
}

function weigh(well: WellCandidate, measured: WellMeasured): WeighedWell {
  const evidence = WAYS.map((way) => way(well, measured));
  return { well, stands: stands(evidence.map((one) => one.finding)), evidence };
}

/** The others that it can be: those that fit, or without one those that are only doubtful. */
function rivalsOf(others: readonly WeighedWell[]): readonly WeighedWell[] {
  const fitting = others.filter((one) => one.stands === 'fits');
  return fitting.length > 0 ? fitting : others.filter((one) => one.stands === 'doubtful');
}

function conclude(supposed: WeighedWell, others: readonly WeighedWell[]): Pick<WellIdentity, 'fits' | 'could'> {
  const rivals = rivalsOf(others);
  const asGood = rivals.filter((one) => one.stands === supposed.stands);
  const better = rivals.filter((one) => one.stands === 'fits' && supposed.stands !== 'fits');
  if (supposed.stands === 'fits' || (supposed.stands === 'doubtful' && better.length === 0))
    return { fits: asGood.length === 0 ? 'this' : 'undecided', could: [supposed, ...asGood] };
  if (rivals.length > 0) return { fits: rivals.length === 1 ? 'other' : 'undecided', could: rivals };
  return { fits: supposed.stands === 'contradicted' ? 'none' : 'unknown', could: [] };
}

/**
 * Which well stands before us, from all that was measured: the bottom, the casing, the stick-up and the water. Depth and
 * casing can contradict; stick-up and water only make doubtful, and decide between wells that the others leave open.
 * Where two wells fit it says so, and leaves the choice to the tag on the casing. Decommissioned wells are filled and
 * cannot be the one.
 */
export function identifyByEvidence(
  supposed: WellCandidate,
  candidates: readonly WellCandidate[],
  measured: WellMeasured,
): WellIdentity {
  const own = weigh(supposed, measured);
  const key = (well: WellCandidate) => `${well.fields.name}\n${well.id}`;
  const others = candidates
    .filter((one) => one.id !== supposed.id && one.fields.standing !== 'decommissioned')
    .toSorted((a, b) => (key(a) < key(b) ? -1 : 1))
    .map((well) => weigh(well, measured));
  return { ...conclude(own, others), weighed: [own, ...others] };
}
