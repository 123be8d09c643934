import { z } from 'zod';
import { SUITE_GROUPS } from '../../catalog/materials/suite-groups.ts';
import { LOW_YIELD_STEPS } from '../../catalog/well/low-yield-steps.ts';
import { RECOVERY_RULES } from '../../catalog/well/recovery-rules.ts';
import { decimal } from '../../protocol/primitives.ts';
import { isRefusal, refuse } from '../../science/refusal.ts';
import { placesText } from '../../science/units/significant-text.ts';
import {
  cascade,
  isLowYield,
  LOW_YIELD_SITUATIONS,
  type LowYieldSituation,
  rulesNext,
  situationOf,
  stepsAt,
} from '../forecast/low-yield.ts';
import { drawableMl, enoughWater, RECOVERY_MEANINGS, recoveryShares } from '../forecast/recovery-facts.ts';
import { NEXT_STEPS } from '../forecast/recovery-next.ts';
import { answered, DEFERS, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const RULE_IDS = RECOVERY_RULES.map(({ id }) => id) as [string, ...string[]];
const SOURCES = [...new Set([...RECOVERY_RULES, ...LOW_YIELD_STEPS].map(({ source }) => source))];

const next = z
  .enum(NEXT_STEPS)
  .describe('Open: it cannot be said without what the reason names; out of time: the hours of the rule are over');
const waitMin = z.string().nullable().describe('Minutes from now until that changes at the latest; null where unknown');

const input = z
  .strictObject({
    purgedDry: z.boolean().optional().describe('Whether the well was pumped dry'),
    drawdownGrowing: z.boolean().optional().describe('Whether the level keeps falling at the lowest rate'),
    rule: z.enum(RULE_IDS).optional().describe('Rule of the plan; without it all are shown and none is chosen'),
    limitOf: z.enum(RECOVERY_MEANINGS).optional().describe('Of what the plan takes a percentage to be'),
    staticDepthToWaterFt: decimal.optional().describe('Before pumping, below the measuring point, as every depth here'),
    lowestDepthToWaterFt: decimal.optional().describe('Lowest level that was pumped down to'),
    depthToWaterFt: decimal.optional().describe('Now'),
    depthToBottomFt: decimal.optional().describe('For the share of the water column'),
    screenTopFt: decimal.optional().describe('To see whether water runs down inside the screen'),
    intakeDepthFt: decimal.optional().describe('Water below it cannot be drawn'),
    sinceStoppedH: decimal.optional().describe('Hours since pumping stopped'),
    earlierDepthToWaterFt: decimal.optional().describe('A level since pumping stopped, for the forecast'),
    sinceEarlierMin: decimal.optional().describe('Time between that level and now'),
    enoughWater: z.boolean().optional().describe('Whether there is enough for the bottles, as the crew sees it'),
    casingInsideDiameterIn: decimal.optional().describe('Or else, with what the bottles need, it is counted'),
    neededMl: decimal.optional().describe('What the bottles need'),
    suites: z.array(z.enum(SUITE_GROUPS)).max(SUITE_GROUPS.length).optional().describe('What is sampled'),
  })
  .meta({
    examples: [
      {
        purgedDry: true,
        rule: 'recovered-80-percent-or-24-hours',
        limitOf: 'drawdown',
        staticDepthToWaterFt: '20.00',
        lowestDepthToWaterFt: '30.00',
        depthToWaterFt: '24.00',
        depthToBottomFt: '40.0',
        screenTopFt: '28.0',
        sinceStoppedH: '2',
        earlierDepthToWaterFt: '28.00',
        sinceEarlierMin: '10',
      },
    ],
  });

type Given = z.output<typeof input>;

const SITUATION_TEXTS: Readonly<Record<LowYieldSituation, string>> = {
  'purged-dry': 'The well was pumped dry: it is sampled from what comes back, and parameters need not be stable.',
  'drawdown-grows':
    'The drawdown keeps growing: lower the rate first; if it still grows, low-flow sampling is not meant for this well.',
  neither: 'The well was not pumped dry and its drawdown does not grow: nothing of this applies.',
  'not-known': 'Whether the well was pumped dry was not said.',
};

function percents(given: Given) {
  const shares = recoveryShares(given);
  const percent = (share: (typeof shares)['drawdown']) => (isRefusal(share) ? null : share.percent);
  return {
    drawdownRecoveredPercent: percent(shares.drawdown),
    columnRecoveredPercent: percent(shares['water-column']),
  };
}

function volatilesCaution({ suites }: Given): string[] {
  if (suites === undefined || !suites.includes('volatiles')) return [];
  return [
    'Volatiles suffer most from water that ran down the screen: say so on the record of the sample (common practice, no source).',
  ];
}

function facts(given: Given) {
  const ml = drawableMl(given);
  return {
    lowYield: isLowYield(given, given.limitOf),
    ...percents(given),
    drawableMl: ml === null ? null : placesText(Math.floor(ml), 0),
    enoughWater: enoughWater(given),
  };
}

const NOTHING = {
  situation: null,
  stabilityRequired: null,
  lowYield: null,
  drawdownRecoveredPercent: null,
  columnRecoveredPercent: null,
  drawableMl: null,
  enoughWater: null,
  next: null,
  waitMin: null,
  rules: [],
  steps: [],
};

export const lowYieldWell = defineQuestion({
  name: 'low-yield-well',
  title: 'The well gives little water: what is lawful next?',
  description:
    'For a well that was pumped dry or whose drawdown keeps growing: what has come back in both meanings of a percentage, what each published rule says to do next and how long that is, and what not to do. The plan names the rule; nothing is chosen for it.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    situation: z.enum(LOW_YIELD_SITUATIONS).nullable().describe('What was said of the well'),
    stabilityRequired: z
      .boolean()
      .nullable()
      .describe('False at a well that was pumped dry; null where nothing says so'),
    lowYield: z.boolean().nullable().describe('Less than 70 % back after 1 h, by one published rule'),
    drawdownRecoveredPercent: figure('Of the drawdown, rounded down'),
    columnRecoveredPercent: figure('Of the water column, rounded down'),
    drawableMl: figure('Water in the casing above the intake'),
    enoughWater: z.boolean().nullable().describe('As the crew said, or as it was counted'),
    next: next.nullable().describe('What the rule of the plan says next; null where it names none'),
    waitMin,
    rules: z
      .array(
        z.strictObject({
          id: z.string(),
          next,
          waitMin,
          because: z.string(),
          wording: z.string(),
          source: z.string(),
          verified: z.boolean(),
        }),
      )
      .describe('What each published rule says; empty while the pump runs in a well that is not dry'),
    steps: z
      .array(
        z.strictObject({
          id: z.string(),
          kind: z.enum(['do', 'do-not']),
          wording: z.string(),
          source: z.string(),
          verified: z.boolean(),
        }),
      )
      .describe('What documents say to do and not to do'),
    ...answerFields,
  }),
  answer(given) {
    const situation = situationOf(given);
    const rules = rulesNext(given, given.limitOf);
    if (situation === 'not-known' && rules.length === 0) {
      const said = refuse(
        'Say whether the well was pumped dry, whether its drawdown keeps growing, or when pumping stopped.',
      );
      return { ...NOTHING, ...unanswered(said, SOURCES) };
    }
    const chosen = rules.find(({ id }) => id === given.rule);
    const steps = stepsAt(situation).map(({ at: _, ...step }) => step);
    const reasons = [SITUATION_TEXTS[situation], ...(chosen === undefined ? [] : [chosen.because])];
    return {
      situation,
      stabilityRequired: situation === 'purged-dry' ? false : null,
      ...facts(given),
      next: chosen?.next ?? null,
      waitMin: chosen?.waitMin ?? null,
      rules,
      steps,
      ...answered(reasons, SOURCES, [...cascade(given), ...volatilesCaution(given), DEFERS]),
    };
  },
});
