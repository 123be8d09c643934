import { z } from 'zod';
import { decimal, instant, text } from '../../../protocol/primitives.ts';

const level = z.strictObject({
  well: text(64).describe('Name of the well'),
  at: instant.describe('When the level was measured'),
  eastFt: decimal.describe('Easting of the well'),
  northFt: decimal.describe('Northing of the well'),
  headFt: decimal.describe('Elevation of the water, corrected for product'),
  lastPumpedAt: instant.optional().describe('When the well was last purged or pumped, where that is known'),
  zone: text(64).optional().describe('Water-bearing zone of the screen'),
  verticalDatum: text(64).optional().describe('Of the elevation'),
});

/** What is asked of the gradient between wells. */
export const gradientInput = z
  .strictObject({
    levels: z.array(level).max(500).describe('One or more of each well; those outside the round are left out'),
    roundSpanH: decimal
      .refine((hours) => Number(hours) > 0, { error: 'is no span above 0 hours' })
      .optional()
      .describe('Longest time between levels of one round; 24 h where the plan says nothing'),
    roundStartsAt: instant.optional().describe('Of the plan; otherwise the span that takes in the most wells'),
    isTidal: z.boolean().optional().describe('Tides move these wells: then the plan has to give the span'),
    levelErrorFt: decimal.optional().describe('Standard error of one head; 0.01 ft where it is not given'),
    gridConvergenceDeg: decimal
      .optional()
      .describe('Grid north east of true north, for a direction from true north; negative west'),
  })
  .meta({
    examples: [
      {
        levels: [
          { well: 'MW-1', at: '2026-05-04T08:05:00-05:00', eastFt: '0', northFt: '0', headFt: '100.60' },
          { well: 'MW-2', at: '2026-05-04T08:40:00-05:00', eastFt: '300', northFt: '0', headFt: '100.00' },
          { well: 'MW-3', at: '2026-05-04T09:10:00-05:00', eastFt: '0', northFt: '300', headFt: '100.60' },
          { well: 'MW-4', at: '2026-05-04T09:30:00-05:00', eastFt: '300', northFt: '300', headFt: '100.02' },
        ],
      },
    ],
  });

export type GradientInput = z.output<typeof gradientInput>;
export type GradientLevel = GradientInput['levels'][number];
