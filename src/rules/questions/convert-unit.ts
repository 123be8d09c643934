import { z } from 'zod';
import { decimal } from '../../protocol/primitives.ts';
import { isRefusal } from '../../science/refusal.ts';
import { convertUnit as convert, convertDifference } from '../../science/units/convert-unit.ts';
import { UNITS, unitWithCode } from '../../science/units/unit-list.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Unified Code for Units of Measure (UCUM) for the codes; definitions of the units for the factors, exact',
  'NIST SP 811, 2008 edition, appendix B.7, for the digits (from memory)',
];

const unit = z
  .string()
  .min(1)
  .max(20)
  .describe(`UCUM code: ${UNITS.map((one) => one.code).join(' ')}`);

/** Sources of a conversion: those of the two units. */
function factorSources(fromUnit: string, toUnit: string): string[] {
  return [fromUnit, toUnit].flatMap((code) => {
    const one = unitWithCode(code);
    return one === undefined ? [] : [`${one.name}: ${one.source}`];
  });
}

export const convertUnit = defineQuestion({
  name: 'convert-unit',
  title: 'What is this in another unit?',
  description:
    'Converts a measured value by the exact factor, with no digit that was not read: 1.50 ft is 0.457 m. A turbidity is never converted to another unit, parts per million never to mg/L, and a difference of temperatures is not a temperature.',
  sources: SOURCES,
  input: z
    .strictObject({
      amount: decimal.describe('As entered: zeros at the end count'),
      fromUnit: unit,
      toUnit: unit,
      isDifference: z
        .boolean()
        .optional()
        .describe('True for a tolerance or step: 1.0 °F of difference is 0.56 °C. Matters for temperatures only'),
    })
    .meta({ examples: [{ amount: '1.50', fromUnit: '[ft_i]', toUnit: 'm' }] }),
  output: z.strictObject({
    converted: figure('In the other unit, with as many digits as were read'),
    step: figure('What the last digit that counts stands for'),
    ...answerFields,
  }),
  answer({ amount, fromUnit, toUnit, isDifference }) {
    const result = isDifference ? convertDifference(amount, fromUnit, toUnit) : convert(amount, fromUnit, toUnit);
    const sources = [...SOURCES, ...factorSources(fromUnit, toUnit)];
    if (isRefusal(result)) return { converted: null, step: null, ...unanswered(result, sources) };
    const what = isDifference ? 'a difference of ' : '';
    const reason = `${what}${amount} ${fromUnit} is ${result.text} ${toUnit}, to ${result.step}.`;
    return { converted: result.text, step: result.step, ...answered([reason], sources) };
  },
});
