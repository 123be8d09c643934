import { z } from 'zod';
import { INTAKE_RULES } from '../../catalog/well/intake-rules.ts';
import { decimal } from '../../protocol/primitives.ts';
import { isRefusal } from '../../science/refusal.ts';
import { compareText } from '../../science/units/decimal-arithmetic.ts';
import { type IntakeConflict, intakeConflicts } from '../../science/well/intake-conflicts.ts';
import { type IntakeGiven, intakePosition as place } from '../../science/well/intake-position.ts';
import type { SaturatedInterval } from '../../science/well/saturated-interval.ts';
import { answered, figure, figureSource, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Puls and Barcelona 1996, EPA/540/S-95/504, section III: middle or slightly above of the screen (read in an excerpted copy)',
  'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996: reuse the intake depth of earlier events',
  figureSource(INTAKE_RULES.bottomClearanceFt),
  figureSource(INTAKE_RULES.longestScreenFt),
  figureSource(INTAKE_RULES.fluxZoneAboveFt),
];

const conflicts = (what: string) =>
  z
    .array(
      z.strictObject({
        kind: z.enum(['above-water', 'above-saturated-top', 'below-interval', 'below-bottom', 'near-bottom']),
        because: z.string(),
      }),
    )
    .describe(`What speaks against ${what}`);

const NOTHING = {
  intakeFt: null,
  middleFt: null,
  screenState: null,
  saturatedTopFt: null,
  saturatedBottomFt: null,
  saturatedLengthFt: null,
  clearFromFt: null,
  clearToFt: null,
  conflicts: [],
  plannedConflicts: [],
};

interface Depths {
  readonly screenTopFt?: string | undefined;
  readonly screenBottomFt?: string | undefined;
  readonly depthToWaterFt: string;
  readonly depthToBottomFt: string;
  readonly bottomClearanceFt?: string | undefined;
}

/** Where no screen is known, the whole water column is the interval. */
function interval(given: Depths): { readonly given: IntakeGiven; readonly reasons: string[] } {
  const { screenTopFt, screenBottomFt, depthToWaterFt, depthToBottomFt } = given;
  const bottomClearanceFt = given.bottomClearanceFt ?? INTAKE_RULES.bottomClearanceFt.value;
  if (screenTopFt !== undefined && screenBottomFt !== undefined)
    return { given: { screenTopFt, screenBottomFt, depthToWaterFt, depthToBottomFt, bottomClearanceFt }, reasons: [] };
  return {
    given: {
      screenTopFt: depthToWaterFt,
      screenBottomFt: depthToBottomFt,
      depthToWaterFt,
      depthToBottomFt,
      bottomClearanceFt,
    },
    reasons: ['Top and bottom of the screen are not both known: the whole water column stands for it.'],
  };
}

function screenCautions({ lengthFt }: SaturatedInterval): string[] {
  const { fluxZoneAboveFt, longestScreenFt } = INTAKE_RULES;
  if (compareText(lengthFt, fluxZoneAboveFt.value) <= 0) return [];
  const long = compareText(lengthFt, longestScreenFt.value) > 0;
  return [
    `With ${lengthFt} ft of saturated screen the zone of highest flux matters more than the middle: follow the plan.`,
    ...(long ? [`The low-stress procedure is meant for screens of at most ${longestScreenFt.value} ft.`] : []),
  ];
}

/** The depth of the last event where nothing speaks against it, so that events compare; or else the middle. */
function suggestion(middleFt: string, last: string | undefined, against: readonly IntakeConflict[]) {
  if (last === undefined) return { intakeFt: middleFt, reason: `${middleFt} ft is the middle of the saturated part.` };
  if (against.length > 0)
    return {
      intakeFt: middleFt,
      reason: `${middleFt} ft is the middle of the saturated part; the ${last} ft of the last event no longer fits.`,
    };
  return {
    intakeFt: last,
    reason: `${last} ft was used at the last event and still fits; the middle is ${middleFt} ft.`,
  };
}

export const intakePosition = defineQuestion({
  name: 'intake-position',
  title: 'How deep does the intake go?',
  description:
    'The middle of the saturated screen, or the depth of the last event where it still fits, with what speaks against it and against a planned depth: less than 2 ft from the bottom, above the saturated top, below the screen. Depths are below the measuring point. It shows conflicts; the plan and the crew choose.',
  sources: SOURCES,
  input: z
    .strictObject({
      depthToWaterFt: decimal.describe('Before pumping, after the pump went in and the level came to rest'),
      depthToBottomFt: decimal.describe('Sounded now or at the last event, or else as built'),
      screenTopFt: decimal.optional().describe('Top of the screen or open hole'),
      screenBottomFt: decimal.optional().describe('Bottom of the screen or open hole'),
      bottomClearanceFt: decimal.optional().describe('Of the plan; 2 ft where it says nothing'),
      lastIntakeFt: decimal.optional().describe('Depth of the intake at the last event'),
      plannedIntakeFt: decimal.optional().describe('A depth to check'),
    })
    .meta({
      examples: [
        { depthToWaterFt: '12.40', depthToBottomFt: '30.2', screenTopFt: '20.0', screenBottomFt: '30.0' },
        {
          depthToWaterFt: '27.10',
          depthToBottomFt: '30.0',
          screenTopFt: '20.0',
          screenBottomFt: '30.0',
          plannedIntakeFt: '29.0',
        },
      ],
    }),
  output: z.strictObject({
    intakeFt: figure('Where the intake goes'),
    middleFt: figure('Middle of the saturated part'),
    screenState: z.enum(['submerged', 'partly']).nullable().describe('How much of the screen is under water'),
    saturatedTopFt: figure('Top of the part under water'),
    saturatedBottomFt: figure('Its bottom'),
    saturatedLengthFt: figure('Its length'),
    clearFromFt: figure('Shallowest depth against which nothing speaks; null where there is none'),
    clearToFt: figure('Deepest depth against which nothing speaks'),
    conflicts: conflicts('the depth that is given'),
    plannedConflicts: conflicts('the planned depth'),
    ...answerFields,
  }),
  answer(input) {
    const { given, reasons } = interval(input);
    const result = place(given);
    if (isRefusal(result)) return { ...NOTHING, ...unanswered(result, SOURCES) };
    const { saturated, middleFt, clear } = result;
    const against = (depth: string) => intakeConflicts({ ...given, saturated }, depth);
    const { lastIntakeFt, plannedIntakeFt } = input;
    const found = suggestion(middleFt, lastIntakeFt, lastIntakeFt === undefined ? [] : against(lastIntakeFt));
    const none = `No depth clears the bottom by ${given.bottomClearanceFt} ft in ${saturated.lengthFt} ft of water: the plan decides.`;
    return {
      intakeFt: found.intakeFt,
      middleFt,
      screenState: saturated.state,
      saturatedTopFt: saturated.topFt,
      saturatedBottomFt: saturated.bottomFt,
      saturatedLengthFt: saturated.lengthFt,
      clearFromFt: clear?.fromFt ?? null,
      clearToFt: clear?.toFt ?? null,
      conflicts: against(found.intakeFt),
      plannedConflicts: plannedIntakeFt === undefined ? [] : against(plannedIntakeFt),
      ...answered([found.reason, ...reasons, ...(clear === null ? [none] : [])], SOURCES, [
        ...screenCautions(saturated),
        'A line is tied to the pump before it goes down.',
      ]),
    };
  },
});
