import type { Features } from './features.ts';

/** A world in which something was found once; it is played in every run. */
export interface Pinned {
  readonly seed: number;
  readonly features?: Partial<Features>;
  readonly found: string;
}

export const PINNED: readonly Pinned[] = [];
