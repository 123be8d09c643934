import { z } from 'zod';
import { SUITE_GROUPS } from '../../catalog/materials/suite-groups.ts';
import { DRAWDOWN_RULES } from '../../catalog/well/drawdown-rules.ts';
import { PUMPING_RATE_RULES } from '../../catalog/well/pumping-rate-rules.ts';
import { decimal } from '../../protocol/primitives.ts';
import { compareText, differenceText, productText } from '../../science/units/decimal-arithmetic.ts';
import { DRAWDOWN_FINDINGS, type JudgedDrawdown, judgeDrawdown } from '../forecast/judge-drawdown.ts';
import { fillAtMost, judgeRates, RATE_FINDINGS } from '../forecast/judge-rates.ts';
import { answered, figure } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [...new Set([...DRAWDOWN_RULES, ...PUMPING_RATE_RULES].map(({ source }) => source))];

const rule = { because: z.string(), wording: z.string(), source: z.string(), verified: z.boolean() };

const input = z
  .strictObject({
    staticDepthToWaterFt: decimal.describe('Before pumping, below the measuring point'),
    depthToWaterFt: decimal.describe('While pumping'),
    steady: z.boolean().optional().describe('Whether the level no longer falls'),
    screenTopFt: decimal.optional().describe('Below the measuring point, as every depth here'),
    screenBottomFt: decimal.optional().describe('For the part of the screen'),
    intakeDepthFt: decimal.optional().describe('For the distance to the screen top, and that the intake stays covered'),
    depthToBottomFt: decimal.optional().describe('For the part of the water column'),
    flowMlPerMin: decimal.optional().describe('At which the well is purged'),
    fillingMlPerMin: decimal.optional().describe('At which bottles are filled'),
    suites: z
      .array(z.enum(SUITE_GROUPS))
      .max(SUITE_GROUPS.length)
      .optional()
      .describe('What is sampled; without it the rates of every suite are shown'),
  })
  .meta({
    examples: [
      {
        staticDepthToWaterFt: '15.00',
        depthToWaterFt: '15.31',
        steady: true,
        screenTopFt: '20.0',
        screenBottomFt: '30.0',
        intakeDepthFt: '25.0',
        depthToBottomFt: '30.2',
        flowMlPerMin: '200',
        fillingMlPerMin: '100',
        suites: ['volatiles', 'metals'],
      },
    ],
  });

function tally(judged: readonly JudgedDrawdown[]): string {
  const counts = DRAWDOWN_FINDINGS.map((finding) => [finding, judged.filter((one) => one.finding === finding).length]);
  const text = counts.map(([finding, count]) => `${count} ${finding}`).join(', ');
  return `Of ${judged.length} published rules: ${text.replace('not-known', 'not known')}.`;
}

const CAUTIONS = [
  'The plan says which rule holds, and from which level drawdown counts: before the pump went in, or after the level came to rest with the pump in.',
  'The stabilized drawdown counts, not that of the start; rates are adjusted in the first 15 min (US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 6 of 13).',
];

function cautionsFor(drawdownFt: string): string[] {
  if (compareText(drawdownFt, '0') >= 0) return CAUTIONS;
  return ['The water stands above its static level: measure both again, from the same point.', ...CAUTIONS];
}

export const drawdownRules = defineQuestion({
  name: 'drawdown-rules',
  title: 'Is this drawdown, and this rate, within what is published?',
  description:
    'A drawdown held against every published rule side by side, each in the unit of its document, for 0.3 ft is not 0.1 m; and the rates of purging and of filling bottles for what is sampled. It shows where rules differ; the plan says which of them holds.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    drawdownFt: figure('How far the water stands below its static level'),
    drawdownM: figure('The same in metres, exactly'),
    rules: z
      .array(
        z.strictObject({
          id: z.string(),
          finding: z
            .enum(DRAWDOWN_FINDINGS)
            .describe('Tolerated: beyond the limit, but steady, which the rule lets pass'),
          limitFt: z.string().nullable().describe('Its limit in feet, rounded to a thousandth'),
          ...rule,
        }),
      )
      .describe('Every rule, in no order of rank'),
    fillAtMostMlPerMin: figure('The rate of filling that no rule for these suites speaks against'),
    rates: z
      .array(
        z.strictObject({
          id: z.string(),
          of: z.enum(['starting', 'purging', 'filling', 'low-yield']),
          finding: z.enum(RATE_FINDINGS),
          atLeastMlPerMin: z.string().nullable(),
          atMostMlPerMin: z.string().nullable().describe('Or the rate of the purge, where that is less and counts'),
          ...rule,
        }),
      )
      .describe('Every rate that applies to these suites'),
    ...answerFields,
  }),
  answer(given) {
    const drawdownFt = differenceText(given.depthToWaterFt, given.staticDepthToWaterFt);
    const rules = judgeDrawdown(given);
    const rates = judgeRates(given);
    return {
      drawdownFt,
      drawdownM: productText(drawdownFt, '0.3048'),
      rules,
      fillAtMostMlPerMin: fillAtMost(rates),
      rates,
      ...answered([tally(rules)], SOURCES, cautionsFor(drawdownFt)),
    };
  },
});
