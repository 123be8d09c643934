import { SILT_MILLIONTHS_FT, tapeTolerance } from './depth-tolerance.ts';
import { decimalText, millionths } from './millionths.ts';
import { type DepthBelowPoint, depthBelowPoint, type WellDepths } from './well-depth.ts';

export interface WellQuestion {
  readonly well: WellDepths;
  /** The other wells of its nest; the well itself among them does no harm. */
  readonly nestWells: readonly WellDepths[];
  /** Below the measuring point, as sounded. */
  readonly depthToBottomFt: string;
}

export interface WellAnswer {
  readonly fits: 'this' | 'other' | 'none' | 'unknown';
  /** The well that fits instead. */
  readonly other?: string;
  /** How the sounding misses the depth of this well, where it does. */
  readonly misses?: 'deeper' | 'shallower';
  readonly sentence: string;
}

interface Candidate {
  readonly well: WellDepths;
  readonly depth: DepthBelowPoint & { readonly known: true };
}

/** A well fills up, so a little shallower fits; nothing makes it deeper, so deeper fits only within the tape. */
function fitsDepth(soundedMillionths: number, depthMillionths: number): boolean {
  const excess = soundedMillionths - depthMillionths;
  return excess <= tapeTolerance(depthMillionths) && excess >= -SILT_MILLIONTHS_FT;
}

function named({ well, depth }: Candidate): string {
  return `${well.fields.name} (${depth.text})`;
}

/** The well that fits best; equal distances go by name and id, so that the order of the list does not matter. */
function bestFit(candidates: readonly Candidate[], sounded: number): Candidate | undefined {
  const key = (one: Candidate) => `${one.well.fields.name}\n${one.well.id}`;
  const off = (one: Candidate) => Math.abs(sounded - one.depth.millionthsFt);
  return candidates
    .filter((one) => fitsDepth(sounded, one.depth.millionthsFt))
    .toSorted((a, b) => off(a) - off(b) || (key(a) < key(b) ? -1 : 1))[0];
}

function fittingAnswer(own: Candidate, depthText: string, sounded: number): WellAnswer {
  const short = own.depth.millionthsFt - sounded;
  const silted = short > tapeTolerance(own.depth.millionthsFt);
  const silt = silted ? `, ${decimalText(short)} ft shallower, as silt makes a well` : '';
  return { fits: 'this', sentence: `${depthText} ft fits ${named(own)}${silt}.` };
}

function nothingFits(own: Candidate, rest: readonly WellDepths[], depthText: string, excess: number): WellAnswer {
  const misses = excess > 0 ? 'deeper' : 'shallower';
  const why = excess > 0 ? 'which silt cannot explain' : 'which may be silt, an obstruction or another well';
  const unknown = rest.flatMap((well) => {
    const depth = depthBelowPoint(well, 'totalDepthFt');
    return depth.known ? [] : [`${depth.because}`];
  });
  const compared = rest.length > unknown.length ? ' No other well of this nest fits.' : '';
  const left = unknown.length > 0 ? ` Not compared: ${unknown.toSorted().join('; ')}.` : '';
  const by = `${decimalText(Math.abs(excess))} ft ${misses} than ${named(own)}`;
  return {
    fits: 'none',
    misses,
    sentence: `${depthText} ft is ${by}, ${why}.${compared}${left} Read the tag on the casing and sound again.`,
  };
}

/**
 * Which well of a nest was sounded, asked before the pump goes in. Says "unknown" rather than guess where a depth or a
 * stick-up is not recorded. Decommissioned wells are filled and cannot be the one.
 */
export function whichWell({ well, nestWells, depthToBottomFt }: WellQuestion): WellAnswer {
  const depth = depthBelowPoint(well, 'totalDepthFt');
  if (!depth.known) return { fits: 'unknown', sentence: `${depthToBottomFt} ft cannot be compared: ${depth.because}.` };
  const own = { well, depth };
  const sounded = millionths(depthToBottomFt);
  if (fitsDepth(sounded, depth.millionthsFt)) return fittingAnswer(own, depthToBottomFt, sounded);
  const misses = sounded > depth.millionthsFt ? 'deeper' : 'shallower';
  const rest = nestWells.filter((one) => one.id !== well.id && one.fields.standing !== 'decommissioned');
  const candidates = rest.flatMap((one) => {
    const its = depthBelowPoint(one, 'totalDepthFt');
    return its.known ? [{ well: one, depth: its }] : [];
  });
  const best = bestFit(candidates, sounded);
  if (best === undefined) return nothingFits(own, rest, depthToBottomFt, sounded - depth.millionthsFt);
  const sentence = `${depthToBottomFt} ft is near the depth of ${named(best)} of this nest, not of ${named(own)}. Read the tag on the casing.`;
  return { fits: 'other', other: best.well.id, misses, sentence };
}
