import { z } from 'zod';
import { decimal } from '../../protocol/primitives.ts';
import { rawConductivityUsPerCm, specificConductanceUsPerCm } from '../../science/conductance/compensate.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { placesText, significantText } from '../../science/units/significant-text.ts';
import {
  COMPENSATION_METHODS,
  COMPENSATIONS,
  type CompensationMethod,
  compensationFactor,
} from '../chemistry/compensation.ts';
import { ifKnown } from '../chemistry/known.ts';
import { answered, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = COMPENSATION_METHODS.map((method) => `${COMPENSATIONS[method].name}: ${COMPENSATIONS[method].source}`);

const ISO_LEAST_US_PER_CM = 60;
const ISO_MOST_US_PER_CM = 1_000;

const input = z
  .strictObject({
    temperatureC: decimal.describe('Of the water'),
    conductivityUsPerCm: decimal.optional().describe('Raw, at the temperature of the water: to bring it to 25 °C'),
    specificConductanceUsPerCm: decimal.optional().describe('At 25 °C as a meter shows it: to find what it measured'),
  })
  .meta({
    examples: [
      { temperatureC: '10.0', conductivityUsPerCm: '500' },
      { temperatureC: '10.0', specificConductanceUsPerCm: '714' },
    ],
  });

type Given = z.output<typeof input>;

interface Asked {
  readonly text: string;
  readonly apply: typeof specificConductanceUsPerCm;
  readonly result: string;
}

function asked({ conductivityUsPerCm: raw, specificConductanceUsPerCm: at25 }: Given): Asked | Refusal {
  if (raw !== undefined && at25 === undefined)
    return { text: raw, apply: specificConductanceUsPerCm, result: 'at 25 °C' };
  if (raw === undefined && at25 !== undefined) return { text: at25, apply: rawConductivityUsPerCm, result: 'raw' };
  return refuse('Give either the raw conductivity or the specific conductance at 25 °C, not both and not neither.');
}

function byMethod(method: CompensationMethod, { temperatureC }: Given, { text, apply }: Asked) {
  const { name } = COMPENSATIONS[method];
  const found = ifKnown(compensationFactor(method, temperatureC), (factor) =>
    ifKnown(apply(Number(text), factor), (value) => ({
      factor: placesText(factor, 4),
      resultUsPerCm: significantText(value, 4),
    })),
  );
  if (isRefusal(found)) return { method, name, factor: null, resultUsPerCm: null, refused: found.refused };
  return { method, name, ...found, refused: null };
}

function cautions({ text }: Asked): string[] {
  const iso =
    Number(text) < ISO_LEAST_US_PER_CM || Number(text) > ISO_MOST_US_PER_CM
      ? ['ISO 7888 gives its factors for natural waters of 60 to 1,000 µS/cm.']
      : [];
  return [
    ...iso,
    'The choice of method alone moves a reading at 10 °C by 1.9 %: keep to one method in a purge and write which one the meter uses.',
  ];
}

export const specificConductance = defineQuestion({
  name: 'specific-conductance',
  title: 'What is this conductivity at 25 °C, or what was it before?',
  description:
    'Brings a conductivity to 25 °C, or back to what was measured, by the three methods in use side by side: linear with 1.91 % or 2.00 % per °C, and the non-linear factors of ISO 7888 for natural water.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    results: z
      .array(
        z.strictObject({
          method: z.enum(COMPENSATION_METHODS).describe('How conductivity is brought to 25 °C'),
          name: z.string().describe('The same in words'),
          factor: z.string().nullable().describe('From the conductivity at the temperature to 25 °C'),
          resultUsPerCm: z.string().nullable().describe('At 25 °C, or raw, to four digits'),
          refused: z.string().nullable().describe('Why this method gives none'),
        }),
      )
      .describe('One entry a method'),
    ...answerFields,
  }),
  answer(given) {
    const what = asked(given);
    if (isRefusal(what)) return { results: [], ...unanswered(what, SOURCES) };
    const results = COMPENSATION_METHODS.map((method) => byMethod(method, given, what));
    const figures = results.flatMap(({ name, resultUsPerCm }) =>
      resultUsPerCm === null ? [] : `${resultUsPerCm} by ${name}`,
    );
    const reason = `${what.text} µS/cm at ${given.temperatureC} °C make ${what.result}: ${figures.join(', ')}.`;
    if (figures.length === 0)
      return {
        results,
        ...unanswered(refuse(`No method gives a figure for ${given.temperatureC} °C and ${what.text} µS/cm.`), SOURCES),
      };
    return { results, ...answered([reason], SOURCES, cautions(what)) };
  },
});
