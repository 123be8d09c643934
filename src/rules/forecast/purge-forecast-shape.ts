import { z } from 'zod';
import { id } from '../../protocol/primitives.ts';
import { levelForecastShape } from './level-shape.ts';
import { notNegative } from './not-negative.ts';
import { DEFAULT_HORIZON_MIN, LONGEST_HORIZON_MIN } from './readings-to-come.ts';
import { stabilizationForecastShape } from './stabilization-shape.ts';

/** What may be asked of a running purge; the address of a REST question has only texts. */
export const purgeForecastInput = z.strictObject({
  withinMin: z.coerce
    .number()
    .int()
    .min(1)
    .max(LONGEST_HORIZON_MIN)
    .default(DEFAULT_HORIZON_MIN)
    .describe('How far to look ahead, in minutes after the latest reading'),
  marginFt: notNegative.default('0').describe('How far above the top of the screen and the intake one wants to stop'),
});
export type PurgeForecastGiven = z.output<typeof purgeForecastInput>;

const refused = z.string().nullable().describe('Why nothing is foreseen; null where something is');

export const purgeForecastOutput = z.strictObject({
  purge: id,
  criteria: z.string(),
  latestReadingAt: z.string().nullable().describe('As entered; the minutes are counted from it'),
  stabilization: z.strictObject({ ...stabilizationForecastShape, refused }),
  levels: z.strictObject({ ...levelForecastShape, refused }),
  advice: z.array(z.string()).describe('Of the assessment: what probably keeps the water from being stable'),
  cautions: z.array(z.string()),
  sources: z.array(z.string()),
});
