import { z } from 'zod';
import { LEVEL_RULES } from '../../catalog/levels/level-rules.ts';
import { decimal } from '../../protocol/primitives.ts';
import { verticalGradient as between } from '../../science/levels/vertical-gradient.ts';
import { isRefusal } from '../../science/refusal.ts';
import { significantText } from '../../science/units/significant-text.ts';
import { answered, figure, figureSource, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  "Darcy's law; the distance between the middles of the screens is common practice, no source",
  figureSource(LEVEL_RULES.levelPrecisionFt),
];

function directionOf(gradient: number, error: number): 'up' | 'down' | 'not-told-apart' {
  if (Math.abs(gradient) <= 2 * error) return 'not-told-apart';
  return gradient > 0 ? 'up' : 'down';
}

export const verticalGradient = defineQuestion({
  name: 'vertical-gradient',
  title: 'Does the water of this nest strive up or down?',
  description:
    'Vertical gradient between two wells of a nest, from their heads in one round and the middles of their saturated screens, with what an error of the levels does to it.',
  sources: SOURCES,
  input: z
    .strictObject({
      upperHeadFt: decimal.describe('Elevation of the water in the shallower well'),
      lowerHeadFt: decimal.describe('Elevation of the water in the deeper well'),
      upperMiddleElevationFt: decimal.describe('Elevation of the middle of the shallower saturated screen'),
      lowerMiddleElevationFt: decimal.describe('Elevation of the middle of the deeper screen'),
      levelErrorFt: decimal.optional().describe('Standard error of one level; 0.01 ft where it is not given'),
    })
    .meta({
      examples: [
        {
          upperHeadFt: '100.20',
          lowerHeadFt: '100.50',
          upperMiddleElevationFt: '80.0',
          lowerMiddleElevationFt: '50.0',
        },
      ],
    }),
  output: z.strictObject({
    gradient: figure('Above 0 upward, below 0 downward; without unit'),
    gradientError: figure('Standard error, from that of the levels'),
    direction: z
      .enum(['up', 'down', 'not-told-apart'])
      .nullable()
      .describe('Not told apart: the gradient is smaller than twice its error'),
    ...answerFields,
  }),
  answer(given) {
    const levelErrorFt = given.levelErrorFt ?? LEVEL_RULES.levelPrecisionFt.value;
    const result = between({
      upperHeadFt: Number(given.upperHeadFt),
      lowerHeadFt: Number(given.lowerHeadFt),
      upperMiddleElevationFt: Number(given.upperMiddleElevationFt),
      lowerMiddleElevationFt: Number(given.lowerMiddleElevationFt),
      levelErrorFt: Number(levelErrorFt),
    });
    if (isRefusal(result))
      return { gradient: null, gradientError: null, direction: null, ...unanswered(result, SOURCES) };
    const [gradient, gradientError] = [significantText(result.gradient, 3), significantText(result.gradientError, 1)];
    const reason = `${gradient}, plus or minus ${gradientError} for an error of ${levelErrorFt} ft in each level.`;
    return {
      gradient,
      gradientError,
      direction: directionOf(result.gradient, result.gradientError),
      ...answered([reason], SOURCES, [
        'Levels of one round only, and none of a well that still recovers from pumping.',
      ]),
    };
  },
});
