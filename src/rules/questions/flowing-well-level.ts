import { z } from 'zod';
import { decimal } from '../../protocol/primitives.ts';
import { flowingDepthToWaterFt, pressureHeadFt } from '../../science/levels/pressure-head.ts';
import { isRefusal } from '../../science/refusal.ts';
import { differenceText } from '../../science/units/decimal-arithmetic.ts';
import { lastPlace } from '../../science/units/decimal-step.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { answered, DEFERS, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Hydrostatics with the density of water at its temperature: Tanaka and others, Metrologia 38 (2001) 301-309 (from memory); 0.4334 psi a foot at 10 °C',
];

const CAUTIONS = [
  `A shut-in well stands under pressure: cap, gauge and valve within their ratings, opened slowly, nobody over it. ${DEFERS}`,
  'The pressure must have come to rest, and the gauge must read zero in the open air.',
];

const NOTHING = { headAboveGaugeFt: null, depthToWaterFt: null, waterElevationFt: null, gaugeStepFt: null };

export const flowingWellLevel = defineQuestion({
  name: 'flowing-well-level',
  title: 'How high would the water of this flowing well stand?',
  description:
    'Head of a flowing well that is shut in, from its gauge pressure and the temperature of its water: 5.0 psi at 10 °C carry 11.54 ft above the gauge. The depth to water is negative, for the water would stand above the measuring point.',
  sources: SOURCES,
  input: z
    .strictObject({
      gaugePressurePsi: decimal.describe('Shut in and at rest, above the air around'),
      waterTemperatureC: decimal.describe('Of the water in the well'),
      gaugeAboveMeasuringPointFt: decimal.describe('Height of the gauge above the measuring point; negative below it'),
      measuringPointElevationFt: decimal.optional().describe('For the elevation'),
    })
    .meta({
      examples: [{ gaugePressurePsi: '5.0', waterTemperatureC: '10', gaugeAboveMeasuringPointFt: '0.50' }],
    }),
  output: z.strictObject({
    headAboveGaugeFt: figure('Height of water that the pressure carries'),
    depthToWaterFt: figure('Below the measuring point: negative where the water would stand above it'),
    waterElevationFt: figure('Null without the measuring point'),
    gaugeStepFt: figure('What one step of the gauge, as it was read, is in feet of water'),
    ...answerFields,
  }),
  answer(given) {
    const [gaugePressurePsi, waterTemperatureC] = [Number(given.gaugePressurePsi), Number(given.waterTemperatureC)];
    const gaugeAboveMeasuringPointFt = Number(given.gaugeAboveMeasuringPointFt);
    const perPsi = pressureHeadFt(1, waterTemperatureC);
    if (isRefusal(perPsi)) return { ...NOTHING, ...unanswered(perPsi, SOURCES) };
    const depth = flowingDepthToWaterFt({ gaugePressurePsi, waterTemperatureC, gaugeAboveMeasuringPointFt });
    if (isRefusal(depth)) return { ...NOTHING, ...unanswered(depth, SOURCES) };
    const [head, step] = [gaugePressurePsi * perPsi, 10 ** lastPlace(given.gaugePressurePsi) * perPsi];
    const depthToWaterFt = placesText(depth, 2);
    const point = given.measuringPointElevationFt;
    return {
      headAboveGaugeFt: placesText(head, 2),
      depthToWaterFt,
      waterElevationFt: point === undefined ? null : differenceText(point, depthToWaterFt),
      gaugeStepFt: placesText(step, 2),
      ...answered(
        [
          `${given.gaugePressurePsi} psi carry ${placesText(head, 2)} ft of water at ${given.waterTemperatureC} °C.`,
          `One step of the gauge as read is ${placesText(step, 2)} ft of water: the level is no better than that.`,
        ],
        SOURCES,
        CAUTIONS,
      ),
    };
  },
});
