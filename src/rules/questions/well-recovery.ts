import { z } from 'zod';
import { RECOVERY_RULES } from '../../catalog/well/recovery-rules.ts';
import { decimal } from '../../protocol/primitives.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { type Recovered, reachesPercent, recoveryOfColumn, recoveryOfDrawdown } from '../../science/well/recovery.ts';
import { minutesToRecover } from '../../science/well/recovery-forecast.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  ...RECOVERY_RULES.map((rule) => `${rule.source}: ${rule.wording}`),
  'Hvorslev 1951, Bulletin 36 of the Waterways Experiment Station, basic time lag, for the forecast (from memory)',
];

const MEANINGS = ['drawdown', 'water-column'] as const;

const input = z
  .strictObject({
    staticDepthToWaterFt: decimal.describe('Before pumping, below the measuring point'),
    depthToWaterFt: decimal.describe('Now'),
    lowestDepthToWaterFt: decimal
      .optional()
      .describe('Lowest level that was pumped down to: for the share of the drawdown'),
    depthToBottomFt: decimal.optional().describe('For the share of the water column'),
    limitPercent: decimal.optional().describe('What the plan asks for, such as 80'),
    limitOf: z.enum(MEANINGS).optional().describe('Of what the percentage of the plan is'),
    earlierDepthToWaterFt: decimal.optional().describe('A level since pumping stopped, for the forecast'),
    minutesSinceEarlierMin: decimal.optional().describe('Time between that level and now'),
  })
  .meta({
    examples: [
      {
        staticDepthToWaterFt: '20.00',
        lowestDepthToWaterFt: '30.00',
        depthToBottomFt: '40.0',
        depthToWaterFt: '24.00',
        limitPercent: '80',
        limitOf: 'drawdown',
        earlierDepthToWaterFt: '28.00',
        minutesSinceEarlierMin: '10',
      },
    ],
  });

type Given = z.output<typeof input>;

/** The two meanings, each with a value, or with the reason why not. */
function shares(given: Given): { readonly drawdown: Recovered | Refusal; readonly column: Recovered | Refusal } {
  const { staticDepthToWaterFt: staticFt, depthToWaterFt: nowFt } = given;
  const { lowestDepthToWaterFt: lowestFt, depthToBottomFt: bottomFt } = given;
  return {
    drawdown:
      lowestFt === undefined
        ? refuse('The share of the drawdown needs the lowest level that was pumped down to.')
        : recoveryOfDrawdown({ staticFt, lowestFt, nowFt }),
    column:
      bottomFt === undefined
        ? refuse('The share of the water column needs the depth to the bottom.')
        : recoveryOfColumn({ staticFt, bottomFt, nowFt }),
  };
}

function said(what: string, share: Recovered | Refusal): string {
  return isRefusal(share) ? share.refused : `${share.percent} % of the ${what} is back.`;
}

/** Whether the limit is reached in the meaning of the plan; without a meaning, only where both agree. */
function reached(given: Given, drawdown: Recovered | Refusal, column: Recovered | Refusal) {
  const { limitPercent: limit } = given;
  if (limit === undefined) return null;
  const reaches = (share: Recovered | Refusal) => (isRefusal(share) ? null : reachesPercent(share, limit));
  const [ofDrawdown, ofColumn] = [reaches(drawdown), reaches(column)];
  if (given.limitOf !== undefined) return given.limitOf === 'drawdown' ? ofDrawdown : ofColumn;
  return ofDrawdown === ofColumn ? ofDrawdown : null;
}

/** What binary numbers leave over of a whole minute. */
const NOTHING_MIN = 1e-6;

/** When the share of the drawdown will be back that the plan asks for; null where it cannot be told. */
function forecast(given: Given): { readonly minutes: string | null; readonly reasons: readonly string[] } {
  const { earlierDepthToWaterFt, minutesSinceEarlierMin, limitPercent, lowestDepthToWaterFt } = given;
  if (earlierDepthToWaterFt === undefined || minutesSinceEarlierMin === undefined)
    return { minutes: null, reasons: [] };
  if (limitPercent === undefined || lowestDepthToWaterFt === undefined)
    return { minutes: null, reasons: ['A forecast needs the limit in percent and the lowest level.'] };
  const below = (depth: string) => Number(depth) - Number(given.staticDepthToWaterFt);
  const minutes = minutesToRecover({
    residualDrawdown1Ft: below(earlierDepthToWaterFt),
    residualDrawdown2Ft: below(given.depthToWaterFt),
    minutesBetween: Number(minutesSinceEarlierMin),
    share: Number(limitPercent) / 100,
    wholeDrawdownFt: below(lowestDepthToWaterFt),
  });
  if (isRefusal(minutes)) return { minutes: null, reasons: [`No forecast: ${minutes.refused}`] };
  const text = placesText(Math.ceil(minutes - NOTHING_MIN), 0);
  return {
    minutes: text,
    reasons: [`If the water keeps rising as it did, ${limitPercent} % of the drawdown is back in ${text} min.`],
  };
}

const CAUTIONS = [
  '"80 % recovered" does not say of what: the plan has to name the drawdown or the water column.',
  'Water that runs down inside the screen loses volatile compounds: a well that was emptied is sampled as soon as enough has come back (county file, doc 612081, page 18).',
];

export const wellRecovery = defineQuestion({
  name: 'well-recovery',
  title: 'Has the well recovered?',
  description:
    'Recovery after pumping in both meanings in use, of the drawdown and of the standing water column, against the limit of the plan, with a forecast from two levels. In a deep well the two are far apart.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    drawdownRecoveredPercent: figure('Of the drawdown, rounded down'),
    columnRecoveredPercent: figure('Of the water column, rounded down'),
    limitReached: z
      .boolean()
      .nullable()
      .describe('In the meaning of the plan; null without a limit, or where the plan names no meaning and they differ'),
    minutesToLimitMin: figure('Time until the limit of the drawdown is reached, if the water keeps rising as it did'),
    ...answerFields,
  }),
  answer(given) {
    const { drawdown, column } = shares(given);
    if (isRefusal(drawdown) && isRefusal(column)) {
      const both = refuse(`${drawdown.refused} ${column.refused}`);
      const nothing = { drawdownRecoveredPercent: null, columnRecoveredPercent: null, limitReached: null };
      return { ...nothing, minutesToLimitMin: null, ...unanswered(both, SOURCES) };
    }
    const { minutes, reasons } = forecast(given);
    return {
      drawdownRecoveredPercent: isRefusal(drawdown) ? null : drawdown.percent,
      columnRecoveredPercent: isRefusal(column) ? null : column.percent,
      limitReached: reached(given, drawdown, column),
      minutesToLimitMin: minutes,
      ...answered([said('drawdown', drawdown), said('water column', column), ...reasons], SOURCES, CAUTIONS),
    };
  },
});
