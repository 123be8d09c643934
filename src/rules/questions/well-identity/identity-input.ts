import { z } from 'zod';
import { decimal, text } from '../../../protocol/primitives.ts';
import type { WellCandidate } from '../../well-identity/evidence.ts';

const well = z.strictObject({
  name: text(64).describe('Name of the well'),
  standing: z.enum(['in-service', 'decommissioned', 'unknown']).optional().describe('In service where it is not given'),
  depthsFrom: z
    .enum(['measuring-point', 'ground'])
    .optional()
    .describe('Of the depth; the measuring point where not given'),
  totalDepthFt: decimal.optional().describe('As built'),
  stickUpFt: decimal.optional().describe('Measuring point above ground; negative below grade'),
  casingInsideDiameterIn: decimal.optional().describe('As recorded'),
  earlierDepthsToWaterFt: z.array(decimal).max(200).optional().describe('Of earlier rounds, below the measuring point'),
});

/** What is asked about the well before us: the supposed one, those that it could be, and what was measured. */
export const identityInput = z
  .strictObject({
    supposed: well.describe('The well that it is taken for'),
    others: z.array(well).max(50).describe('The wells that it could be instead: those of the nest, or near by'),
    depthToBottomFt: decimal.optional().describe('As sounded'),
    casingInsideDiameterIn: decimal.optional().describe('As measured'),
    stickUpFt: decimal.optional().describe('As measured'),
    depthToWaterFt: decimal.optional().describe('As measured'),
  })
  .meta({
    examples: [
      {
        supposed: {
          name: 'MW-4S',
          totalDepthFt: '25.3',
          casingInsideDiameterIn: '2.067',
          earlierDepthsToWaterFt: ['12.40'],
        },
        others: [{ name: 'MW-4D', totalDepthFt: '61.8', casingInsideDiameterIn: '2.067' }],
        depthToBottomFt: '61.6',
        depthToWaterFt: '31.22',
      },
    ],
  });

type Well = z.output<typeof well>;

/** A well of the question as the rules know it. The place in the list tells wells of one name apart. */
export function candidate(given: Well, place: number): WellCandidate {
  const { name, standing, depthsFrom, totalDepthFt, stickUpFt } = given;
  return {
    id: `${place}`,
    fields: {
      name,
      standing: standing ?? 'in-service',
      depthsFrom: depthsFrom ?? 'measuring-point',
      totalDepthFt,
      stickUpFt,
    },
    casingInsideDiameterIn: given.casingInsideDiameterIn,
    earlierDepthsToWaterFt: given.earlierDepthsToWaterFt,
  };
}
