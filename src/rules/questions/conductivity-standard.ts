import { z } from 'zod';
import { CONDUCTIVITY_STANDARD_IDS, conductivityStandardAt } from '../../catalog/standards/conductivity-standards.ts';
import { decimal } from '../../protocol/primitives.ts';
import { specificConductanceUsPerCm } from '../../science/conductance/compensate.ts';
import { isRefusal } from '../../science/refusal.ts';
import { significantText } from '../../science/units/significant-text.ts';
import {
  COMPENSATION_METHODS,
  COMPENSATIONS,
  type CompensationMethod,
  compensationFactor,
} from '../chemistry/compensation.ts';
import { ifKnown, orNull } from '../chemistry/known.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'NIST values for potassium chloride (Wu, Koch and Pratt 1991; Wu et al. 1994; Pratt et al. 2001), as printed in the CRC Handbook',
];

/** What a meter that compensates as if the standard were its kind of water shows: not the label, away from 25 °C. */
function shown(method: CompensationMethod, rawText: string, temperatureC: string) {
  const value = ifKnown(compensationFactor(method, temperatureC), (factor) =>
    specificConductanceUsPerCm(Number(rawText), factor),
  );
  return { method, name: COMPENSATIONS[method].name, showsUsPerCm: orNull(value, (at25) => significantText(at25, 4)) };
}

const NOTHING = { conductivityUsPerCm: null, at25UsPerCm: null, verified: null, compensated: [] };

export const conductivityStandard = defineQuestion({
  name: 'conductivity-standard',
  title: 'What does this conductivity standard have at its temperature?',
  description:
    'The conductivity of a potassium chloride standard at a temperature, and what a meter that compensates to 25 °C shows in it by each method. A bottle is made by the litre, the published table by the kilogram of water: they differ by 0.3 %, so that the bottle follows the course of the table from its own label. Other strengths are known at 25 °C only.',
  sources: SOURCES,
  input: z
    .strictObject({
      standard: z.enum(CONDUCTIVITY_STANDARD_IDS).describe('Bottled by its label, or the molal standard'),
      temperatureC: decimal.describe('Of the standard'),
    })
    .meta({ examples: [{ standard: 'bottled-1413', temperatureC: '15.0' }] }),
  output: z.strictObject({
    conductivityUsPerCm: figure('At its temperature: what a meter without compensation should show'),
    at25UsPerCm: figure('At 25 °C, as on the label'),
    verified: z.boolean().nullable().describe('Whether the figures were read in their source'),
    compensated: z
      .array(
        z.strictObject({
          method: z.enum(COMPENSATION_METHODS).describe('How the meter brings conductivity to 25 °C'),
          name: z.string().describe('The same in words'),
          showsUsPerCm: z.string().nullable().describe('What it shows in the standard; null outside its range'),
        }),
      )
      .describe('What a meter shows that compensates'),
    ...answerFields,
  }),
  answer({ standard, temperatureC }) {
    const value = conductivityStandardAt(standard, temperatureC);
    if (isRefusal(value)) return { ...NOTHING, ...unanswered(value, SOURCES) };
    return {
      conductivityUsPerCm: value.text,
      at25UsPerCm: value.at25UsPerCm,
      verified: value.verified,
      compensated: COMPENSATION_METHODS.map((method) => shown(method, value.text, temperatureC)),
      ...answered(
        [`${value.name} has ${value.text} µS/cm at ${temperatureC} °C: ${value.how}.`],
        [value.source],
        [
          'A table on a bottle is not always right: one seen for "1413" prints 1,667 at 35 °C, where the course of the NIST values gives 1,694.',
          'Away from 25 °C a meter shows something else than the label, because potassium chloride is not compensated exactly: check it near 25 °C, or compare with what it should show.',
        ],
      ),
    };
  },
});
