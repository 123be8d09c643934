import type { WellDepths } from '../well-depth.ts';

/** What is known of a well that could be the one before us. */
export interface WellCandidate extends WellDepths {
  readonly casingInsideDiameterIn?: string | undefined;
  /** Depths to water of earlier rounds, below the measuring point. */
  readonly earlierDepthsToWaterFt?: readonly string[] | undefined;
}

/** What was measured at the well before us; whatever was not measured is left out. */
export interface WellMeasured {
  readonly depthToBottomFt?: string | undefined;
  readonly casingInsideDiameterIn?: string | undefined;
  readonly stickUpFt?: string | undefined;
  readonly depthToWaterFt?: string | undefined;
}

/**
 * `contradicts`: it cannot be this well; `doubts`: something else may explain it; `unknown`: there is nothing to compare.
 */
export type Finding = 'agrees' | 'contradicts' | 'doubts' | 'unknown';

export interface Evidence {
  readonly kind: 'depth' | 'casing' | 'stick-up' | 'water-level';
  readonly finding: Finding;
  readonly sentence: string;
}

export function evidence(kind: Evidence['kind'], finding: Finding, sentence: string): Evidence {
  return { kind, finding, sentence };
}
