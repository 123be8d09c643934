import { z } from 'zod';
import { decimal, instant, text } from '../../protocol/primitives.ts';
import { MOST_NON_DETECTS_PERCENT } from '../../science/history/below-limit.ts';
import { TREND_SIDES } from '../../science/history/mann-kendall.ts';
import { yearsBetween } from '../../science/history/years.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { namesSeasons, testSeasonalTrend } from '../well-history/seasonal-trend.ts';
import { EXACT_P_UP_TO, slopeOfTrend, type TrendGiven, testTrend } from '../well-history/trend.ts';
import { NO_TREND_FIGURES, type TrendAnswer, trendAnswer } from '../well-history/trend-answer.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Mann-Kendall, Theil-Sen and seasonal Kendall: US EPA, Statistical Analysis of Groundwater Monitoring Data at RCRA Facilities, Unified Guidance, EPA 530/R-09-007, March 2009, Examples 17-6 and 14-10',
  `Exact p up to ${EXACT_P_UP_TO} values: Gilbert 1987, Statistical Methods for Environmental Pollution Monitoring`,
  `No slope above ${MOST_NON_DETECTS_PERCENT} % of non-detects: common practice, no source`,
];

const round = z.strictObject({
  at: instant.describe('When the sample was taken: a full date, for "89.6" would be read as a year and its tenths'),
  amount: decimal.describe('In the unit of the question; of a non-detect its limit'),
  nonDetect: z.boolean().optional().describe('The amount is a limit below which the value lies'),
  season: text(32)
    .optional()
    .describe('Such as "spring": where all rounds name one, each season is compared with itself'),
});

const input = z
  .strictObject({
    unit: text(32).describe('Of the amounts, such as mg/L'),
    scale: z.enum(['raw', 'log']).describe('For the slope: in the unit a year, or in percent a year'),
    side: z.enum(TREND_SIDES).optional().describe('What is asked for; two-sided where not given'),
    significancePercent: decimal.optional().describe('5 where not given'),
    rounds: z.array(round).max(400).describe('In any order, one value a day'),
  })
  .meta({
    examples: [
      {
        unit: 'mg/L',
        scale: 'raw',
        rounds: ['5.1', '4.4', '4.6', '3.9', '3.1', '2.8'].map((amount, year) => ({
          at: `${2019 + year}-05-04T10:05:00-05:00`,
          amount,
        })),
      },
    ],
  });

type Given = z.output<typeof input>;

function unusable({ rounds, scale, significancePercent }: Given): Refusal | undefined {
  const days = rounds.map((one) => one.at.slice(0, 10));
  const twice = days.find((day, at) => days.indexOf(day) !== at);
  if (twice)
    return refuse(`Two values are of ${twice}: decide which of them counts, for within a day there is no trend.`);
  const least = rounds.find((one) => Number(one.amount) <= 0);
  if (scale === 'log' && least) return refuse(`The amount ${least.amount} has no logarithm: ask on the raw scale.`);
  const percent = Number(significancePercent ?? '5');
  return percent > 0 && percent <= 50
    ? undefined
    : refuse(`A significance of ${significancePercent} % is not above 0 and up to 50: 5 is usual.`);
}

function trendGiven({ rounds, scale, side, significancePercent }: Given): TrendGiven {
  const start = rounds[0]?.at ?? '';
  const points = rounds.map(({ at, amount, nonDetect, season }) => ({
    time: yearsBetween(start, at),
    value: scale === 'log' ? Math.log(Number(amount)) : Number(amount),
    nonDetect: nonDetect ?? false,
    season,
  }));
  return {
    points: points.toSorted((a, b) => a.time - b.time),
    scale,
    side: side ?? 'two-sided',
    significance: Number(significancePercent ?? '5') / 100,
  };
}

function plainTrend(trend: TrendGiven, unit: string): TrendAnswer | Refusal {
  const tested = testTrend(trend);
  if (isRefusal(tested)) return tested;
  const { test, nonDetects, measuredBelow } = tested;
  const by = test.z === null ? 'exact' : 'normal, with corrections for ties and continuity';
  const below =
    measuredBelow > 0 ? ` ${measuredBelow} measured value(s) below the highest limit count as ties too.` : '';
  return trendAnswer({
    trend,
    unit,
    method: `Mann-Kendall, ${by}, ${test.side}`,
    test,
    tau: test.tauA,
    line: slopeOfTrend(trend),
    heterogeneityP: null,
    notes: nonDetects > 0 ? [`${nonDetects} non-detect(s) are tied below the highest limit.${below}`] : [],
  });
}

function seasonalTrend(trend: TrendGiven, unit: string): TrendAnswer | Refusal {
  const tested = testSeasonalTrend(trend);
  if (isRefusal(tested)) return tested;
  const { test, line, apart } = tested;
  const notes = apart
    ? ['The seasons go different ways: look at each of them, for the one trend misleads.']
    : ['The seasons do not contradict each other.'];
  const method = `seasonal Kendall of ${test.seasons} seasons, normal, with corrections for ties and continuity, ${test.side}`;
  return trendAnswer({ trend, unit, method, test, tau: null, line, heterogeneityP: test.heterogeneity.p, notes });
}

/** The test that fits the rounds: with seasons where they name them. */
function trendOf(given: Given): TrendAnswer | Refusal {
  const wrong = unusable(given);
  if (wrong) return wrong;
  const seasons = namesSeasons(given.rounds);
  if (isRefusal(seasons)) return seasons;
  const trend = trendGiven(given);
  return seasons ? seasonalTrend(trend, given.unit) : plainTrend(trend, given.unit);
}

const CAUTIONS = [
  'No trend shown is not the same as no trend: few rounds show only clear ones.',
  'Rounds that depend on each other, or a season in the data, make p too small.',
];

export const wellTrend = defineQuestion({
  name: 'well-trend',
  title: 'Does it rise or fall in this well?',
  description:
    'Mann-Kendall test and Theil-Sen slope of the rounds of a well, or the seasonal Kendall test where every round names its season. Which distribution, side and scale were used is said with the answer, non-detects are tied and never replaced, and times are true dates.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    direction: z.enum(['rising', 'falling', 'none-shown']).nullable().describe('At the significance asked for'),
    method: figure('The test, its distribution and its side'),
    s: z.int().nullable().describe('Rising pairs less falling pairs'),
    z: figure('Null where p is exact'),
    p: figure('Of the side that was asked for'),
    tau: figure('S over all pairs; null for seasons'),
    slopePerYear: figure(
      'Median of the slopes of all pairs: in the unit a year, or in percent a year on the log scale',
    ),
    slopePerYearFrom: figure('Lower end: of 95 % confidence, or of what non-detects leave open'),
    slopePerYearTo: figure('Upper end'),
    slopeUnit: figure('Of the slope and its ends'),
    heterogeneityP: figure('Small where the seasons go different ways; null without seasons'),
    ...answerFields,
  }),
  answer(given) {
    const found = trendOf(given);
    if (isRefusal(found)) return { ...NO_TREND_FIGURES, ...unanswered(found, SOURCES) };
    const { reasons, ...figures } = found;
    return { ...figures, ...answered(reasons, SOURCES, CAUTIONS) };
  },
});
