import { z } from 'zod';
import { decimal, text } from '../../protocol/primitives.ts';
import { groundwaterElevationFt } from '../../science/levels/groundwater-elevation.ts';
import { isRefusal } from '../../science/refusal.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Elevation of the measuring point less the depth to water; worked in county file, doc 471029, page 11',
];

export const groundwaterElevation = defineQuestion({
  name: 'groundwater-elevation',
  title: 'How high does the water stand?',
  description:
    'Elevation of the water from the elevation of the measuring point and the depth to water below it. With product on the water ask product-correction; at a flowing well that is shut in ask flowing-well-level.',
  sources: SOURCES,
  input: z
    .strictObject({
      measuringPointElevationFt: decimal.describe('Of the point from which the depth was measured, valid on that day'),
      depthToWaterFt: decimal.describe('Negative above the point'),
      verticalDatum: text(64).optional().describe('Of the elevation, such as NAVD 88'),
    })
    .meta({ examples: [{ measuringPointElevationFt: '48.22', depthToWaterFt: '9.08', verticalDatum: 'NAVD 88' }] }),
  output: z.strictObject({
    waterElevationFt: figure('In the datum of the measuring point'),
    verticalDatum: figure('As given'),
    ...answerFields,
  }),
  answer({ measuringPointElevationFt, depthToWaterFt, verticalDatum }) {
    const elevation = groundwaterElevationFt({ measuringPointElevationFt, depthToWaterFt });
    if (isRefusal(elevation)) return { waterElevationFt: null, verticalDatum: null, ...unanswered(elevation, SOURCES) };
    const datum = verticalDatum === undefined ? [] : [`It is above ${verticalDatum}.`];
    const missing = 'The vertical datum is not given: elevations of two datums are not compared.';
    return {
      waterElevationFt: elevation,
      verticalDatum: verticalDatum ?? null,
      ...answered(
        [`${measuringPointElevationFt} ft less ${depthToWaterFt} ft is ${elevation} ft.`, ...datum],
        SOURCES,
        verticalDatum === undefined ? [missing] : [],
      ),
    };
  },
});
