import { z } from 'zod';
import { PH_SLOPE_LIMITS, type PhSlopeLimit } from '../../catalog/calibration/ph-slope-limits.ts';
import { decimal } from '../../protocol/primitives.ts';
import { electrodeSlope } from '../../science/ph/electrode-slope.ts';
import { isRefusal } from '../../science/refusal.ts';
import { compareText } from '../../science/units/decimal-arithmetic.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { answered, figure, figureSource, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Nernst equation, constants of CODATA 2018',
  ...PH_SLOPE_LIMITS.map((limit) => `${limit.source}: ${figureSource(limit.leastPercent)}`),
];

function isWithin(percent: string, { leastPercent, mostPercent }: PhSlopeLimit): boolean {
  if (compareText(percent, leastPercent.value) < 0) return false;
  return mostPercent === undefined || compareText(percent, mostPercent.value) <= 0;
}

function limitText({ leastPercent, mostPercent }: PhSlopeLimit): string {
  return mostPercent === undefined
    ? `at least ${leastPercent.value} %`
    : `${leastPercent.value} to ${mostPercent.value} %`;
}

function judged(percent: string) {
  return PH_SLOPE_LIMITS.map((limit) => ({
    limit: limitText(limit),
    source: limit.source,
    isWithin: isWithin(percent, limit),
    verified: limit.leastPercent.verified,
  }));
}

const NOTHING = { slopeMvPerPh: null, nernstMvPerPh: null, percentOfNernst: null, mvAtPh7: null, limits: [] };

export const phSlope = defineQuestion({
  name: 'ph-slope',
  title: 'Is this pH electrode still good?',
  description:
    'The slope of a glass electrode from its millivolts in two buffers, as a share of the Nernst slope at that temperature, beside the limits that documents name. A low slope wants cleaning, a fresh buffer or a new electrode.',
  sources: SOURCES,
  input: z
    .strictObject({
      temperatureC: decimal.describe('Of both buffers'),
      firstPh: decimal.describe('Of the first buffer at that temperature'),
      firstMv: decimal.describe('What the meter showed in it'),
      secondPh: decimal.describe('Of the second buffer at that temperature'),
      secondMv: decimal.describe('What the meter showed in it'),
    })
    .meta({
      examples: [{ temperatureC: '25.0', firstPh: '7.00', firstMv: '-4.0', secondPh: '4.00', secondMv: '168.0' }],
    }),
  output: z.strictObject({
    slopeMvPerPh: figure('Of the electrode'),
    nernstMvPerPh: figure('Of a perfect one at that temperature'),
    percentOfNernst: figure('The one as a share of the other, to 0.1 %'),
    mvAtPh7: figure('Where the line through both buffers passes pH 7.00'),
    limits: z
      .array(
        z.strictObject({
          limit: z.string().describe('What is allowed'),
          source: z.string().describe('Which document'),
          isWithin: z.boolean().describe('Whether the slope is within it; exactly at it is within'),
          verified: z.boolean().describe('Whether the figure was read in its document'),
        }),
      )
      .describe('Limits that documents name'),
    ...answerFields,
  }),
  answer({ temperatureC, firstPh, firstMv, secondPh, secondMv }) {
    const slope = electrodeSlope(
      { ph: Number(firstPh), mv: Number(firstMv) },
      { ph: Number(secondPh), mv: Number(secondMv) },
      Number(temperatureC),
    );
    if (isRefusal(slope)) return { ...NOTHING, ...unanswered(slope, SOURCES) };
    const percentOfNernst = placesText(slope.percentOfNernst, 1);
    return {
      slopeMvPerPh: placesText(slope.mvPerPh, 2),
      nernstMvPerPh: placesText(slope.nernstMvPerPh, 2),
      percentOfNernst,
      mvAtPh7: placesText(slope.mvAtPh7, 1),
      limits: judged(percentOfNernst),
      ...answered(
        [
          `The electrode changes by ${placesText(slope.mvPerPh, 2)} mV in a unit of pH, ${percentOfNernst} % of what a perfect one does at ${temperatureC} °C.`,
        ],
        SOURCES,
        ['A spoilt buffer looks like a bad electrode: try a fresh portion first.'],
      ),
    };
  },
});
