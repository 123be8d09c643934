import type { Figure } from '../criteria-set.ts';
import { seen } from '../figures.ts';

/** What documents say of water levels and of a round of them; a plan may set its own. */
export interface LevelRules {
  readonly roundSpanH: Figure;
  /** Two tolerances of repeated readings are in use. */
  readonly repeatWithinFt: readonly [Figure, Figure];
  readonly electricTapeBestBelowFt: Figure;
  readonly waitAfterPurgingH: Figure;
  readonly levelPrecisionFt: Figure;
}

export const LEVEL_RULES: LevelRules = {
  roundSpanH: seen('24', 'EPA Environmental Response Team, SOP 2043, 11 Feb 2000'),
  repeatWithinFt: [
    seen('0.01', 'county file, doc 919545, page 367 (Army depot SOP-011): usually 0.01 ft'),
    seen('0.02', 'county file, doc 600482, page 293: 0.01 or 0.02 ft'),
  ],
  electricTapeBestBelowFt: seen('200', 'USGS GWPD 4, v2010.1, TM 1-A1 (2011), read in a copy'),
  waitAfterPurgingH: seen('24', 'EPA, RCRA ground-water monitoring, Nov 1992, p. 7-4, read in a copy'),
  levelPrecisionFt: seen('0.01', 'EPA, RCRA ground-water monitoring, Nov 1992, p. 7-4, read in a copy'),
};
