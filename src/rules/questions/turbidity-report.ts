import { z } from 'zod';
import { decimal } from '../../protocol/primitives.ts';
import { isRefusal } from '../../science/refusal.ts';
import { isAboveNephelometricRange, reportedTurbidity } from '../../science/turbidity/reporting-step.ts';
import { sameOptics } from '../../science/turbidity/same-optics.ts';
import { TURBIDITY_UNITS } from '../../science/units/turbidity-units.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Standard Methods 2130 B and EPA method 180.1, for the steps (from memory)',
  'ASTM D7315 and US Geological Survey, National Field Manual, chapter 6.7: the unit names the optics (from memory)',
];

const unit = z
  .string()
  .min(1)
  .max(20)
  .describe(`UCUM code of the unit that the meter shows: ${TURBIDITY_UNITS.map(({ code }) => code).join(' ')}`);

const NOTHING = { reported: null, step: null, unit: null };

function cautions(turbidity: string, code: string): string[] {
  const isNtu = code === '[NTU]';
  return [
    ...(isNtu ? [] : ['The steps are published for NTU; the unit stays as it is.']),
    ...(isNtu && isAboveNephelometricRange(turbidity)
      ? ['EPA method 180.1 measures up to 40 NTU and dilutes what is above.']
      : []),
    'Rounding is for the report: stability is judged on what was read.',
  ];
}

export const turbidityReport = defineQuestion({
  name: 'turbidity-report',
  title: 'How is this turbidity reported?',
  description:
    'Rounds a turbidity to the step in which it is reported, in the unit of its meter. Two turbidities in different units are refused: other optics see other things in the same water, and there is no factor, not even 1.',
  sources: SOURCES,
  input: z
    .strictObject({
      turbidity: decimal.describe('As read'),
      unit,
      besideUnit: unit.optional().describe('Unit of a turbidity that it is to stand beside, to ask whether it may'),
    })
    .meta({ examples: [{ turbidity: '7.23', unit: '[NTU]' }] }),
  output: z.strictObject({
    reported: figure('Rounded to the step'),
    step: figure('The step'),
    unit: figure('As the meter shows it'),
    ...answerFields,
  }),
  answer({ turbidity, unit: code, besideUnit }) {
    const optics = sameOptics(besideUnit === undefined ? [code] : [code, besideUnit]);
    if (isRefusal(optics)) return { ...NOTHING, ...unanswered(optics, SOURCES) };
    const reported = reportedTurbidity(turbidity);
    if (isRefusal(reported)) return { ...NOTHING, ...unanswered(reported, SOURCES) };
    const { written } = optics;
    return {
      reported: reported.text,
      step: reported.step,
      unit: written,
      ...answered(
        [`${turbidity} ${written} is reported as ${reported.text} ${written}, in steps of ${reported.step}.`],
        SOURCES,
        cautions(turbidity, code),
      ),
    };
  },
});
