import { z } from 'zod';
import { decimal } from '../../protocol/primitives.ts';
import { isRefusal } from '../../science/refusal.ts';
import { placesText, significantText } from '../../science/units/significant-text.ts';
import { riseByPump } from '../../science/well/rise-by-pump.ts';
import { answered, DEFERS, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = ['Displacement, computed: 1.5 in by 2.0 ft in 2.067 in lift the water by 1.05 ft'];

const CAUTIONS = [
  'Drawdown counts from the level at rest: let the water fall back before pumping, and measure it again.',
  'A pump that goes in or out fast surges the well and stirs up what lies in it: lower it slowly.',
  `Pumps and wet lines are heavy: lift with the legs or with help. ${DEFERS}`,
];

export const waterLiftedByPump = defineQuestion({
  name: 'water-lifted-by-pump',
  title: 'By how much does the pump lift the water as it goes in?',
  description:
    'Rise of the water from the volume of pump and lines, before any has flowed back through the screen. A drawdown that is counted from the lifted level is counted from the wrong level: in a 2-in well a pump lifts the water by more than the usual target of 0.3 ft.',
  sources: SOURCES,
  input: z
    .strictObject({
      casingInsideDiameterIn: decimal.describe('Actual inside diameter'),
      pumpDiameterIn: decimal.describe('Outside'),
      pumpLengthFt: decimal.describe('Of the pump'),
      pumpTopBelowWaterFt: decimal.describe('How far below the undisturbed water the top of the pump will hang'),
      lineOutsideDiametersIn: z.array(decimal).max(10).optional().describe('Of each line, cable and hose'),
    })
    .meta({
      examples: [
        {
          casingInsideDiameterIn: '2.067',
          pumpDiameterIn: '1.5',
          pumpLengthFt: '2.0',
          pumpTopBelowWaterFt: '10.0',
          lineOutsideDiametersIn: ['0.25', '0.25'],
        },
      ],
    }),
  output: z.strictObject({
    riseFt: figure('Of the water, before it flows back'),
    displacedL: figure('Water that pump and lines take the place of'),
    ...answerFields,
  }),
  answer(given) {
    const result = riseByPump({
      casingInsideDiameterIn: Number(given.casingInsideDiameterIn),
      pumpDiameterIn: Number(given.pumpDiameterIn),
      pumpLengthFt: Number(given.pumpLengthFt),
      pumpTopBelowWaterFt: Number(given.pumpTopBelowWaterFt),
      lineOutsideDiametersIn: (given.lineOutsideDiametersIn ?? []).map(Number),
    });
    if (isRefusal(result)) return { riseFt: null, displacedL: null, ...unanswered(result, SOURCES) };
    const riseFt = placesText(result.riseFt, 2);
    const displacedL = significantText(result.displacedMl / 1_000, 3);
    return {
      riseFt,
      displacedL,
      ...answered(
        [`Pump and lines take the place of ${displacedL} L and lift the water by ${riseFt} ft.`],
        SOURCES,
        CAUTIONS,
      ),
    };
  },
});
