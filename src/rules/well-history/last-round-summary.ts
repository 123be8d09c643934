import { z } from 'zod';
import type { READING_QUANTITIES } from '../../protocol/kinds/reading.ts';
import { ROUND_SUMMARY } from '../../protocol/kinds/visit-summary.ts';

/** The last values of the purge that the next crew looks for. */
export const LAST_VALUES = [
  'temperatureC',
  'ph',
  'specificConductanceUsPerCm',
  'dissolvedOxygenMgPerL',
  'orpMv',
  'turbidityNtu',
  'turbidityFnu',
] as const satisfies readonly (keyof typeof READING_QUANTITIES)[];

/** The summary of a visit as a question takes it: what its record says, without the well. */
export const lastRoundSummary = z.strictObject(ROUND_SUMMARY);

export type LastRoundSummary = Readonly<z.output<typeof lastRoundSummary>>;
