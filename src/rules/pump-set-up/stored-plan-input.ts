import { z } from 'zod';
import { id } from '../../protocol/primitives.ts';
import { pumpSetUpPlanInput } from './plan-input.ts';

const { depthsFrom: _reference, units: parts, ...asked } = pumpSetUpPlanInput.shape;

/** What is asked of a pump set-up in a well that is on record: what the records say need not be given. */
export const storedPlanInput = z
  .strictObject({
    ...asked,
    casingInsideDiameterIn: asked.casingInsideDiameterIn
      .optional()
      .describe('Actual, not nominal; goes before the record of the well'),
    staticDepthToWaterFt: asked.staticDepthToWaterFt
      .optional()
      .describe('Below the measuring point, before pumping; the latest level on record where it is not given'),
    units: z.array(id).max(20).optional().describe('Records of units at hand: their ratings, sizes and materials'),
    parts: parts.describe(
      'What is at hand and on no record, such as tubing and fittings. Without the ratings of pump, tubing, fitting and regulator no pressure is given',
    ),
  })
  .meta({
    examples: [
      {
        staticDepthToWaterFt: '24.0',
        pumpingDepthToWaterFt: '27.5',
        productOrVapour: false,
        waterTemperatureC: '12.0',
        altitudeFt: '500',
        suites: ['PFAS', 'metals'],
      },
    ],
  });

export type StoredPlanInput = z.output<typeof storedPlanInput>;
