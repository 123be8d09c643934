import type { Figure } from '../criteria-set.ts';
import { fromMemory, seen } from '../figures.ts';

/** Which share of the Nernst slope an electrode may have. */
export interface PhSlopeLimit {
  readonly id: 'usgs-field-manual' | 'county-protocol';
  readonly leastPercent: Figure;
  readonly mostPercent?: Figure;
  readonly source: string;
}

export const PH_SLOPE_LIMITS: readonly PhSlopeLimit[] = [
  {
    id: 'usgs-field-manual',
    leastPercent: fromMemory('95', 'medium'),
    mostPercent: fromMemory('105', 'medium'),
    source: 'US Geological Survey, National Field Manual, chapter 6.4 (from memory)',
  },
  {
    id: 'county-protocol',
    leastPercent: seen('85'),
    source: 'county file, doc 578983, page 47: rejects less than 85 %',
  },
];
