import { z } from 'zod';
import { LEVEL_RULES } from '../../catalog/levels/level-rules.ts';
import { decimal } from '../../protocol/primitives.ts';
import { repeatAgreement } from '../../science/levels/repeat-agreement.ts';
import { isRefusal } from '../../science/refusal.ts';
import { compareText } from '../../science/units/decimal-arithmetic.ts';
import { answered, figure, figureSource, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [...LEVEL_RULES.repeatWithinFt, LEVEL_RULES.electricTapeBestBelowFt].map(figureSource);

function tapeCautions(depthFt: string): string[] {
  const { value } = LEVEL_RULES.electricTapeBestBelowFt;
  return compareText(depthFt, value) > 0
    ? [`An electric tape is at its best above ${value} ft: below, check it against a steel tape that is kept for it.`]
    : [];
}

export const waterLevelRepeat = defineQuestion({
  name: 'water-level-repeat',
  title: 'Do the repeated depths to water agree?',
  description:
    'Whether the last two of some depths to water agree to the tolerance, and which depth counts. Disagreeing readings are not averaged: the level is measured until two in a row agree, and one that keeps moving has not come to rest.',
  sources: SOURCES,
  input: z
    .strictObject({
      depthsToWaterFt: z.array(decimal).min(1).max(50).describe('In the order in which they were read'),
      toleranceFt: decimal.optional().describe('Of the plan; 0.01 ft where it says nothing'),
    })
    .meta({ examples: [{ depthsToWaterFt: ['23.47', '23.45', '23.46'] }] }),
  output: z.strictObject({
    agree: z.boolean().nullable().describe('Whether the last two agree'),
    differenceFt: figure('Between the last two'),
    depthToWaterFt: figure('The depth that counts; null while the readings do not agree'),
    ...answerFields,
  }),
  answer({ depthsToWaterFt, toleranceFt }) {
    const [usual, wider] = LEVEL_RULES.repeatWithinFt;
    const within = toleranceFt ?? usual.value;
    const result = repeatAgreement(depthsToWaterFt, within);
    if (isRefusal(result))
      return { agree: null, differenceFt: null, depthToWaterFt: null, ...unanswered(result, SOURCES) };
    const reasons = [
      `The last two readings differ by ${result.differenceFt} ft, ${result.agree ? 'within' : 'more than'} ${within} ft.`,
      ...(result.agree ? [] : ['Measure again until two in a row agree.']),
      ...(toleranceFt === undefined
        ? [`The plan gave no tolerance: ${usual.value} ft is usual, ${wider.value} ft is in use too.`]
        : []),
    ];
    return {
      agree: result.agree,
      differenceFt: result.differenceFt,
      depthToWaterFt: result.depthFt,
      ...answered(reasons, SOURCES, depthsToWaterFt.slice(-1).flatMap(tapeCautions)),
    };
  },
});
