import { z } from 'zod';
import { LEVEL_RULES } from '../../catalog/levels/level-rules.ts';
import {
  fullCircle,
  type HorizontalGradient,
  horizontalGradient as ofPlane,
} from '../../science/levels/horizontal-gradient.ts';
import { type Plane, planeFit } from '../../science/levels/plane-fit.ts';
import { isRefusal } from '../../science/refusal.ts';
import { placesText, significantText } from '../../science/units/significant-text.ts';
import { answered, figure, figureSource, unanswered } from './answered.ts';
import { gradientInput } from './horizontal-gradient/gradient-input.ts';
import { roundOf } from './horizontal-gradient/round-of.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  "Plane of least squares; US EPA's on-line gradient calculator for more than three wells reports the same",
  figureSource(LEVEL_RULES.roundSpanH),
  figureSource(LEVEL_RULES.waitAfterPurgingH),
  figureSource(LEVEL_RULES.levelPrecisionFt),
];

const CAUTIONS = [
  'A plane is exact only for one-dimensional confined flow (US EPA, on-line calculators of gradients); pumps, ditches and mounds bend it.',
  'Flow goes straight down the gradient only where the ground conducts alike in all directions.',
];

const NOTHING = {
  gradient: null,
  gradientError: null,
  flowAzimuthDeg: null,
  flowAzimuthFromTrueNorthDeg: null,
  azimuthErrorDeg: null,
  largestHeadDifferenceFt: null,
  standardResidualFt: null,
  rSquared: null,
  conditionNumber: null,
  residuals: [],
};

function places(value: number | null, digits: number): string | null {
  return value === null ? null : placesText(value, digits);
}

/** An azimuth in whole degrees, so that 359.6 is 0 and not 360. */
function azimuth(value: number | null): string | null {
  return value === null ? null : placesText(fullCircle(Math.round(value)), 0);
}

function figures(plane: Plane, flow: HorizontalGradient, convergence: string | undefined) {
  const { flowAzimuthDeg: grid } = flow;
  return {
    gradient: significantText(flow.magnitude, 3),
    gradientError: significantText(flow.magnitudeError, 2),
    flowAzimuthDeg: azimuth(grid),
    flowAzimuthFromTrueNorthDeg:
      grid === null || convergence === undefined ? null : azimuth(grid + Number(convergence)),
    azimuthErrorDeg: places(flow.azimuthErrorDeg, 1),
    largestHeadDifferenceFt: placesText(plane.largestHeadDifferenceFt, 2),
    standardResidualFt: places(plane.standardResidualFt, 3),
    rSquared: places(plane.rSquared, 4),
    conditionNumber: placesText(plane.conditionNumber, 1),
  };
}

function reasons(plane: Plane, flow: HorizontalGradient, levelErrorFt: string): string[] {
  const { magnitude, magnitudeError, flowAzimuthDeg, azimuthErrorDeg } = flow;
  const where =
    flowAzimuthDeg === null
      ? 'The plane is level: there is no direction.'
      : `Water goes to ${azimuth(flowAzimuthDeg)} degrees clockwise from grid north, plus or minus ${places(azimuthErrorDeg, 1)} for an error of ${levelErrorFt} ft in each level.`;
  const small = magnitude <= 2 * magnitudeError;
  return [
    where,
    `The wells stand with a condition number of ${placesText(plane.conditionNumber, 1)}: 1 is even in all directions, large is nearly in a line.`,
    ...(plane.wells === 3 ? ['Three wells always fit a plane: the residuals say nothing of how good it is.'] : []),
    ...(small ? ['The gradient is smaller than twice its error: it is not told apart from none.'] : []),
  ];
}

export const horizontalGradient = defineQuestion({
  name: 'horizontal-gradient',
  title: 'How steep is the water table, and where does the water go?',
  description:
    'Hydraulic gradient and direction of flow from three or more wells by least squares, with residuals, the shape of the well field, and what an error of the levels does. Levels outside the round are left out and named; mixed zones or datums are refused. The direction is clockwise from grid north.',
  sources: SOURCES,
  input: gradientInput,
  output: z.strictObject({
    gradient: figure('Fall of head over distance, without unit'),
    gradientError: figure('Standard error, from that of the levels'),
    flowAzimuthDeg: figure('Where the water goes, clockwise from grid north; null where the plane is level'),
    flowAzimuthFromTrueNorthDeg: figure('The same from true north; null without the grid convergence'),
    azimuthErrorDeg: figure('Standard error of the direction, from that of the levels'),
    largestHeadDifferenceFt: figure('Between two of the wells'),
    standardResidualFt: figure('How far the heads miss the plane; null for three wells'),
    rSquared: figure('Share of the head differences that the plane explains'),
    conditionNumber: figure('1 is even in all directions, large is nearly in a line'),
    residuals: z
      .array(z.strictObject({ well: z.string(), residualFt: z.string() }))
      .describe('Head less plane at each well of the round'),
    excluded: z
      .array(z.strictObject({ well: z.string(), because: z.string() }))
      .describe('Levels that are not of the round'),
    ...answerFields,
  }),
  answer(given) {
    const round = roundOf(given);
    if (isRefusal(round)) return { ...NOTHING, excluded: [], ...unanswered(round, SOURCES) };
    const excluded = round.excluded.map(({ level, because }) => ({ well: level.well, because }));
    const plane = planeFit(
      round.kept.map((one) => ({
        eastFt: Number(one.eastFt),
        northFt: Number(one.northFt),
        headFt: Number(one.headFt),
      })),
    );
    if (isRefusal(plane)) return { ...NOTHING, excluded, ...unanswered(plane, SOURCES) };
    const levelErrorFt = given.levelErrorFt ?? LEVEL_RULES.levelPrecisionFt.value;
    const flow = ofPlane(plane, Number(levelErrorFt));
    if (isRefusal(flow)) return { ...NOTHING, excluded, ...unanswered(flow, SOURCES) };
    const residuals = round.kept.flatMap(({ well }, at) =>
      plane.residualsFt.slice(at, at + 1).map((residual) => ({ well, residualFt: placesText(residual, 3) })),
    );
    return {
      ...figures(plane, flow, given.gridConvergenceDeg),
      residuals,
      excluded,
      ...answered(reasons(plane, flow, levelErrorFt), SOURCES, CAUTIONS),
    };
  },
});
