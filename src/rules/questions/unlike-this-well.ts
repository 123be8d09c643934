import { z } from 'zod';
import { decimal } from '../../protocol/primitives.ts';
import { refuse } from '../../science/refusal.ts';
import { compareWithHistory, type HistoryComparison, LEAST_ROUNDS } from '../well-history/compare-with-history.ts';
import { HISTORY_QUANTITIES } from '../well-history/history-quantities.ts';
import { answered, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Modified z beyond 3.5: Iglewicz & Hoaglin 1993, How to Detect and Handle Outliers',
  "Tukey's fences at 1.5 with median-unbiased quartiles: Hyndman & Fan 1996, The American Statistician 50, type 8 (from memory)",
  `At least ${LEAST_ROUNDS} earlier rounds; 2 ft of water, 0.5 pH and 10 % of specific conductance as the least that matters: common practice, no source`,
  'Least difference of the bottom: US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 5 of 13, reading to 0.1 ft; USGS Pacific Islands, errors of synoptic surveys, for the stretch of the tape',
];

const values = {
  depthToBottomFt: decimal.optional().describe('As sounded, below the measuring point'),
  depthToWaterFt: decimal.optional().describe('Before pumping, below the measuring point'),
  ph: decimal.optional().describe('Of the last reading of the purge'),
  specificConductanceUsPerCm: decimal.optional().describe('At 25 °C, of the last reading of the purge'),
};

const FIELDS = ['depthToBottomFt', 'depthToWaterFt', 'ph', 'specificConductanceUsPerCm'] as const;

const earlierRounds = Array.from({ length: LEAST_ROUNDS }, (_, round) => ({
  depthToWaterFt: (12 + (round % 4) / 10).toFixed(2),
  ph: (6.9 + (round % 3) / 20).toFixed(2),
  specificConductanceUsPerCm: String(600 + 7 * (round % 5)),
}));

const input = z
  .strictObject({
    ...values,
    earlierRounds: z
      .array(z.strictObject(values))
      .max(400)
      .describe('One entry a round, in any order, with what was measured then; depths below the same measuring point'),
  })
  .meta({ examples: [{ depthToWaterFt: '12.31', ph: '6.95', specificConductanceUsPerCm: '0.61', earlierRounds }] });

function comparisons(given: z.output<typeof input>): HistoryComparison[] {
  return HISTORY_QUANTITIES.flatMap((quantity) => {
    const now = given[quantity.field];
    if (now === undefined) return [];
    const earlier = given.earlierRounds.flatMap((round) => round[quantity.field] ?? []);
    return [compareWithHistory(quantity, now, earlier)];
  });
}

const CAUTIONS = [
  'It is a question and no finding: the value is kept as it was measured, and the crew may leave it at that.',
  'A well that changes steadily, with the season or with pumping near by leaves its earlier range without any error.',
];

export const unlikeThisWell = defineQuestion({
  name: 'unlike-this-well',
  title: 'Is this unlike this well?',
  description:
    'Whether the bottom, the water, pH or specific conductance just measured is far from what earlier rounds gave here: asked while the crew is still there and can look again. Nothing else is compared, nothing with few rounds, and nothing is refused or changed.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    unlike: z
      .boolean()
      .nullable()
      .describe('Whether anything is worth a second look; null where nothing could be compared'),
    comparisons: z
      .array(
        z.strictObject({
          field: z.enum(FIELDS),
          finding: z.enum(['like', 'unlike', 'too-few-rounds']),
          earlierRounds: z.int().describe('That gave this quantity'),
          sentence: z.string(),
          checks: z.array(z.string()).describe('What to look at now'),
        }),
      )
      .describe('One for each quantity that was measured'),
    ...answerFields,
  }),
  answer(given) {
    const all = comparisons(given);
    if (all.length === 0) {
      const nothing = refuse(
        'Nothing was measured that can be compared: give the depth to the bottom or to water, pH or specific conductance.',
      );
      return { unlike: null, comparisons: [], ...unanswered(nothing, SOURCES) };
    }
    const compared = all.filter((one) => one.finding !== 'too-few-rounds');
    const unlike = compared.length === 0 ? null : compared.some((one) => one.finding === 'unlike');
    return {
      unlike,
      comparisons: all.map((one) => ({ ...one, checks: [...one.checks] })),
      ...answered(
        all.map((one) => one.sentence),
        SOURCES,
        unlike === true ? CAUTIONS : [],
      ),
    };
  },
});
