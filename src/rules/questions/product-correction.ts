import { z } from 'zod';
import { decimal, text } from '../../protocol/primitives.ts';
import { productCorrection as correct, formationThicknessIn } from '../../science/levels/product-correction.ts';
import { isRefusal } from '../../science/refusal.ts';
import { differenceText } from '../../science/units/decimal-arithmetic.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { answered, DEFERS, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Hydrostatics: DTW - T SG; worked in county file, doc 471029, page 11 (30 Jul 2003)',
  'Kuo, Practical Design Calculations for Groundwater and Soil Remediation, 2nd ed., p. 32, ex. 2.17, for the formation',
];

const CAUTIONS = [
  `With product or its vapour in a well: no compressor, battery or unrated meter near the casing. ${DEFERS}`,
  'The thickness in a well is many times that in the formation, and changes with the water level.',
  'The specific gravity is of this product at its temperature: one of a handbook is an assumption of the plan.',
];

const input = z
  .strictObject({
    depthToProductFt: decimal.describe('To the top of the product, below the measuring point'),
    depthToWaterFt: decimal.describe('To the interface of product and water'),
    specificGravity: decimal.optional().describe('Of this product against the water of the well; never assumed'),
    specificGravityFrom: text().optional().describe('Where the specific gravity comes from'),
    measuringPointElevationFt: decimal.optional().describe('For elevations'),
    capillaryFringeIn: decimal.optional().describe('For an estimate of the thickness in the formation'),
  })
  .meta({
    examples: [
      {
        depthToProductFt: '8.75',
        depthToWaterFt: '9.08',
        specificGravity: '0.83',
        specificGravityFrom: 'laboratory, sample of March',
        measuringPointElevationFt: '48.22',
      },
    ],
  });

type Given = z.output<typeof input>;

const NOTHING = {
  thicknessFt: null,
  correctedDepthToWaterFt: null,
  waterElevationFt: null,
  correctedWaterElevationFt: null,
  formationThicknessIn: null,
};

function elevation({ measuringPointElevationFt }: Given, depthToWaterFt: string): string | null {
  return measuringPointElevationFt === undefined ? null : differenceText(measuringPointElevationFt, depthToWaterFt);
}

function formation({ capillaryFringeIn, specificGravity }: Given, thicknessFt: string) {
  if (capillaryFringeIn === undefined) return { inches: null, reasons: [] };
  const found = formationThicknessIn({
    wellThicknessIn: Number(thicknessFt) * 12,
    specificGravity: Number(specificGravity),
    capillaryFringeIn: Number(capillaryFringeIn),
  });
  if (isRefusal(found)) return { inches: null, reasons: [`No estimate for the formation: ${found.refused}`] };
  return { inches: placesText(found, 1), reasons: [] };
}

export const productCorrection = defineQuestion({
  name: 'product-correction',
  title: 'How high would the water stand without the product on it?',
  description:
    'Depth to water and elevation corrected for product that floats in the well. The specific gravity has no default, and a liquid that sinks is refused: it lies below the water and does not press it down.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    thicknessFt: figure('Of the product in the well'),
    correctedDepthToWaterFt: figure('As the water would stand, to the place of the readings'),
    waterElevationFt: figure('As measured; null without the measuring point'),
    correctedWaterElevationFt: figure('As it would be'),
    formationThicknessIn: figure('A first estimate; null without the capillary fringe'),
    ...answerFields,
  }),
  answer(given) {
    const { depthToProductFt, depthToWaterFt, specificGravity } = given;
    const result = correct({ depthToProductFt, depthToWaterFt, specificGravity });
    if (isRefusal(result)) return { ...NOTHING, ...unanswered(result, SOURCES) };
    const inFormation = formation(given, result.thicknessFt);
    const from = given.specificGravityFrom ?? 'its source is not given';
    return {
      thicknessFt: result.thicknessFt,
      correctedDepthToWaterFt: result.depthToWaterFt,
      waterElevationFt: elevation(given, depthToWaterFt),
      correctedWaterElevationFt: elevation(given, result.depthToWaterFt),
      formationThicknessIn: inFormation.inches,
      ...answered(
        [
          `${result.thicknessFt} ft of product of specific gravity ${specificGravity} (${from}) press the water down by ${result.riseFt} ft.`,
          `Without it the water would stand at ${result.depthToWaterFt} ft (${result.exactDepthToWaterFt} before rounding).`,
          ...inFormation.reasons,
        ],
        SOURCES,
        CAUTIONS,
      ),
    };
  },
});
