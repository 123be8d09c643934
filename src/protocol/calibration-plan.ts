import { z } from 'zod';
import { CHECK_LIMIT_SET_IDS, CHECK_LIMIT_SETS } from '../catalog/calibration/check-limit-sets.ts';
import { maybe } from './kind.ts';

export const CHECK_BASES = ['nominal', 'at-temperature'] as const;
export const PERCENT_OF = ['standard', 'reading'] as const;
export const STRICTNESSES = ['stricter', 'wider'] as const;

/** For how many hours a pass vouches for a meter where nobody says. Common practice, no source. */
export const LONGEST_H = 24;

const CHECK_SETS_TEXT = Object.values(CHECK_LIMIT_SETS)
  .map(({ id, document, issuer }) => `${id} (${issuer}, ${document})`)
  .join('; ');

/** By which limits the checks of meters are judged, and what a document leaves open. */
export const calibrationPlan = z.strictObject({
  set: z.enum(CHECK_LIMIT_SET_IDS).describe(`Whose limits: ${CHECK_SETS_TEXT}`),
  basis: maybe(z.enum(CHECK_BASES)).describe(
    'Compare with the label or with the value at the temperature. Default: as the set',
  ),
  percentOf: maybe(z.enum(PERCENT_OF)).describe('Of what a percentage is taken. Default: standard'),
  strictness: maybe(z.enum(STRICTNESSES)).describe('Where a document names two figures. Default: as the set'),
  longestH: maybe(z.int().min(1).max(168)).describe(
    `How long a pass or a calibration vouches for a meter, in hours. Default: ${LONGEST_H}`,
  ),
});
export type CalibrationPlan = z.output<typeof calibrationPlan>;
