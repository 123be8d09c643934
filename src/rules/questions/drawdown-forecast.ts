import { z } from 'zod';
import { decimal } from '../../protocol/primitives.ts';
import { isRefusal, refuse } from '../../science/refusal.ts';
import { LEVEL_FORECAST_CAUTIONS, LEVEL_FORECAST_SOURCES } from '../forecast/forecast-sources.ts';
import { type LevelTarget, levelForecast } from '../forecast/level-forecast.ts';
import { levelForecastShape, NO_LEVEL_FORECAST, shownLevels } from '../forecast/level-shape.ts';
import { notNegative } from '../forecast/not-negative.ts';
import { answered, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const input = z
  .strictObject({
    levels: z
      .array(
        z.strictObject({
          elapsedMin: decimal.describe('Since any fixed moment, such as the beginning of the purge'),
          depthToWaterFt: decimal.describe('While pumping, below the measuring point'),
        }),
      )
      .max(500)
      .describe('Since the rate of pumping was last changed, in any order'),
    screenTopFt: decimal.optional().describe('Below the measuring point'),
    intakeDepthFt: decimal.optional().describe('Below the measuring point'),
    staticDepthToWaterFt: decimal
      .optional()
      .describe(
        'Before pumping: where it stands at or below the top of the screen, that top is nothing to keep away from',
      ),
    marginFt: notNegative.optional().describe('How far above these depths one wants to stop; 0 where nothing is said'),
  })
  .meta({
    examples: [
      {
        // the worked case: 2.0 ft above the screen top, a margin of 1.0 ft, 0.05 ft/min
        levels: [
          { elapsedMin: '0', depthToWaterFt: '17.50' },
          { elapsedMin: '5', depthToWaterFt: '17.75' },
          { elapsedMin: '10', depthToWaterFt: '18.00' },
        ],
        screenTopFt: '20.0',
        intakeDepthFt: '25.0',
        marginFt: '1.0',
      },
    ],
  });

function isAcrossWaterTable({ screenTopFt, staticDepthToWaterFt }: z.output<typeof input>): boolean {
  if (screenTopFt === undefined || staticDepthToWaterFt === undefined) return false;
  return Number(staticDepthToWaterFt) >= Number(screenTopFt);
}

function targetsOf(given: z.output<typeof input>): LevelTarget[] {
  const { screenTopFt, intakeDepthFt } = given;
  const screen =
    screenTopFt === undefined || isAcrossWaterTable(given) ? [] : [{ at: 'screen-top' as const, depthFt: screenTopFt }];
  const intake = intakeDepthFt === undefined ? [] : [{ at: 'intake' as const, depthFt: intakeDepthFt }];
  return [...screen, ...intake];
}

const NO_DEPTH = 'No depth to get to: give the top of the screen, the depth of the intake, or both.';
const IN_THE_SCREEN =
  'The water stands in the screen before anybody pumps, so its top is nothing to keep away from: give the depth of the intake.';

export const drawdownForecast = defineQuestion({
  name: 'drawdown-forecast',
  title: 'At this rate, when does the water reach the screen top or the intake?',
  description:
    'From pumping levels in time and two depths: how fast the water falls and when it gets there, each with its uncertainty, rounded so that nobody is told to have more time than there is. No time is told where the level is steady, rises, or was measured too few times.',
  sources: LEVEL_FORECAST_SOURCES,
  input,
  output: z.strictObject({ ...levelForecastShape, ...answerFields }),
  answer(given) {
    const targets = targetsOf(given);
    if (targets.length === 0) {
      const nothing = refuse(isAcrossWaterTable(given) ? IN_THE_SCREEN : NO_DEPTH);
      return { ...NO_LEVEL_FORECAST, ...unanswered(nothing, LEVEL_FORECAST_SOURCES) };
    }
    const levels = given.levels.map((one) => ({ minutes: Number(one.elapsedMin), depthFt: one.depthToWaterFt }));
    const forecast = levelForecast(levels, targets, given.marginFt ?? '0');
    const shown = shownLevels(forecast);
    const sentences = shown.arrivals.map(({ sentence }) => sentence);
    if (isRefusal(forecast)) return { ...shown, ...unanswered(forecast, LEVEL_FORECAST_SOURCES), reasons: sentences };
    const dropped = given.levels.length - forecast.levels;
    const bent = dropped === 0 ? [] : [`The first ${dropped} levels are left out: the fall was bent there.`];
    return {
      ...shown,
      ...answered([...sentences, ...bent], LEVEL_FORECAST_SOURCES, LEVEL_FORECAST_CAUTIONS),
    };
  },
});
