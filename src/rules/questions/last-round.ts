import { z } from 'zod';
import { INTAKE_RULES } from '../../catalog/well/intake-rules.ts';
import { decimal } from '../../protocol/primitives.ts';
import { isRefusal } from '../../science/refusal.ts';
import { intakeConflicts } from '../../science/well/intake-conflicts.ts';
import { saturatedInterval } from '../../science/well/saturated-interval.ts';
import { type LastRoundSummary, lastRoundSummary } from '../well-history/last-round-summary.ts';
import { lastRoundText } from '../well-history/last-round-text.ts';
import { answered, DEFERS, figure, figureSource } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996: reuse the intake depth and the rate of earlier events',
  figureSource(INTAKE_RULES.bottomClearanceFt),
];

const id = (last: number) => `00000000-0000-7000-8000-00000000000${last}`;

const input = z
  .strictObject({
    last: lastRoundSummary.describe('Of the last visit, as it travels with the well'),
    depthToWaterFt: decimal.optional().describe('Today, before pumping, below the same measuring point'),
    depthToBottomFt: decimal.optional().describe('Today; that of the last round where not sounded'),
    bottomClearanceFt: decimal.optional().describe('Of the plan; 2 ft where it says nothing'),
  })
  .meta({
    examples: [
      {
        last: {
          event: id(1),
          eventName: 'Autumn round',
          visit: id(2),
          arrived: '2025-10-06T09:30:00-05:00',
          method: 'low-flow',
          outcome: 'sampled',
          depthToWaterFt: '12.04',
          lowestDepthToWaterFt: '12.18',
          depthToBottomFt: '24.9',
          pumpType: 'bladder-pump',
          intakeDepthFt: '19.8',
          flowMlPerMin: '200',
          purgedMl: '8000',
          purgeMin: '40',
          wentDry: false,
          criteria: 'epa-region-1-low-stress-rev-2',
          stable: true,
          minutesToStableMin: '35',
          call: 'stable',
        },
        depthToWaterFt: '13.30',
      },
    ],
  });

type Given = z.output<typeof input>;

interface Fit {
  /** Null where it cannot be told. */
  readonly fits: boolean | null;
  readonly because: readonly string[];
}

/** Whether an intake at last round's depth hangs in today's water, clear of the bottom. */
function intakeFit({ last, depthToWaterFt, depthToBottomFt, bottomClearanceFt }: Given): Fit {
  const bottomFt = depthToBottomFt ?? last.depthToBottomFt;
  if (last.intakeDepthFt === undefined)
    return { fits: null, because: ['The depth of the intake of last round is not known.'] };
  if (depthToWaterFt === undefined || bottomFt === undefined)
    return {
      fits: null,
      because: ["Whether that intake still fits needs today's water level and a depth to the bottom."],
    };
  const saturated = saturatedInterval({ topFt: depthToWaterFt, bottomFt, depthToWaterFt });
  if (isRefusal(saturated)) return { fits: null, because: [saturated.refused] };
  const clearance = bottomClearanceFt ?? INTAKE_RULES.bottomClearanceFt.value;
  const around = { saturated, depthToWaterFt, depthToBottomFt: bottomFt, bottomClearanceFt: clearance };
  const conflicts = intakeConflicts(around, last.intakeDepthFt);
  return { fits: conflicts.length === 0, because: conflicts.map((one) => one.because) };
}

function cautions(last: LastRoundSummary): string[] {
  return [
    ...(last.wentDry
      ? [
          'The well gave out last round: start slower, watch the level from the first minute, and plan for a second visit.',
        ]
      : []),
    ...(last.drivePressurePsi === undefined
      ? []
      : [
          `The drive pressure of last round is no limit for today: stay within the ratings of this pump, its tubing and its regulator. ${DEFERS}`,
        ]),
    'Depths compare only below the same measuring point: look whether it was changed since.',
  ];
}

export const lastRound = defineQuestion({
  name: 'last-round',
  title: 'What was done here last round?',
  description:
    'Intake, flow, setting, purge time and end of the last round at this well, and whether the intake still fits the water of today: offline, from the summary that travels with the well.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    intakeDepthFt: figure('To use again'),
    intakeFits: z
      .boolean()
      .nullable()
      .describe('Whether it hangs in the water of today and clear of the bottom; null where it cannot be told'),
    flowMlPerMin: figure('To use again'),
    drivePressurePsi: figure('As set last round'),
    refillS: figure('As set last round'),
    dischargeS: figure('As set last round'),
    purgeMin: figure('That the purge took'),
    wentDry: z.boolean().describe('The well gave no more water'),
    ...answerFields,
  }),
  answer(given) {
    const { last } = given;
    const { fits, because } = intakeFit(given);
    return {
      intakeDepthFt: last.intakeDepthFt ?? null,
      intakeFits: fits,
      flowMlPerMin: last.flowMlPerMin ?? null,
      drivePressurePsi: last.drivePressurePsi ?? null,
      refillS: last.refillS ?? null,
      dischargeS: last.dischargeS ?? null,
      purgeMin: last.purgeMin ?? null,
      wentDry: last.wentDry,
      ...answered([...lastRoundText(last), ...because], SOURCES, cautions(last)),
    };
  },
});
