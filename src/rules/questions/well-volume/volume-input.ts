import { z } from 'zod';
import { decimal } from '../../../protocol/primitives.ts';

/** What is asked of the volumes of a well. */
export const wellVolumeInput = z
  .strictObject({
    depthToBottomFt: decimal.describe('Below the measuring point, sounded or as built'),
    depthToWaterFt: decimal.describe('Below the measuring point; negative above it'),
    casingInsideDiameterIn: decimal.optional().describe('Actual inside diameter; goes before the nominal size'),
    nominalCasingIn: decimal.optional().describe('Nominal size, where the actual inside diameter is not known'),
    casingSchedule: z.enum(['40', '80']).optional().describe('Wall thickness that goes with the nominal size'),
    casingOutsideDiameterIn: decimal.optional().describe('For the filter pack'),
    screenTopFt: decimal.optional().describe('Below the measuring point'),
    screenBottomFt: decimal.optional().describe('Below the measuring point'),
    boreholeDiameterIn: decimal.optional().describe('For the filter pack: as drilled'),
    packPorosity: decimal.optional().describe('For the filter pack: share of pores such as 0.30; never assumed'),
    packTopFt: decimal.optional().describe('For the filter pack: below the measuring point'),
    packBottomFt: decimal.optional().describe('For the filter pack; the bottom of the well where it is not given'),
    wellVolumes: decimal
      .refine((count) => Number(count) > 0, { error: 'is no number of volumes above 0' })
      .optional()
      .describe('How many well volumes the plan asks for, such as 3'),
  })
  .meta({
    examples: [
      { depthToBottomFt: '64.52', depthToWaterFt: '49.90', casingInsideDiameterIn: '4.026', wellVolumes: '3' },
      { depthToBottomFt: '30.0', depthToWaterFt: '12.40', nominalCasingIn: '2', casingSchedule: '40' },
    ],
  });

export type WellVolumeInput = z.output<typeof wellVolumeInput>;
