import { z } from 'zod';
import { atTemperature } from '../../catalog/standards/at-temperature.ts';
import { PH_BUFFER_IDS, PH_BUFFERS, type PhBuffer } from '../../catalog/standards/ph-buffers.ts';
import { decimal } from '../../protocol/primitives.ts';
import { isRefusal } from '../../science/refusal.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'JIS Z 8802 for the standard solutions of the pH scale, read in a copy',
  'Table of a commercial buffer set for the technical buffers, read in a copy',
];

const NOTHING = { ph: null, label: null };

function cautions({ family }: PhBuffer): string[] {
  const own =
    family === 'technical'
      ? ['The table on the bottle in hand goes first: technical buffers differ between makers.']
      : [];
  return [
    ...own,
    'A buffer labelled 7.00 is not the phosphate of the pH scale, which is 6.86 at 25 °C: the meter must be told which one it sees.',
  ];
}

export const phBuffer = defineQuestion({
  name: 'ph-buffer',
  title: 'What pH has this buffer at its temperature?',
  description:
    'The pH of a buffer at a temperature, by its recipe and not by the round number on the bottle: a technical 7.00 reads 7.06 at 10 °C. Between the printed temperatures a straight line; nothing beyond the ends of a table.',
  sources: SOURCES,
  input: z
    .strictObject({
      buffer: z.enum(PH_BUFFER_IDS).describe('By recipe: the family, then the pH at 25 °C without its point'),
      temperatureC: decimal.describe('Of the buffer'),
    })
    .meta({ examples: [{ buffer: 'technical-700', temperatureC: '12.5' }] }),
  output: z.strictObject({
    ph: figure('At that temperature, to 0.01'),
    label: figure('What the bottle says, at 25 °C'),
    ...answerFields,
  }),
  answer({ buffer, temperatureC }) {
    const table = PH_BUFFERS[buffer];
    const value = atTemperature(table, temperatureC);
    if (isRefusal(value)) return { ...NOTHING, ...unanswered(value, SOURCES) };
    const reason = `${table.name}, has pH ${value.text} at ${temperatureC} °C, ${value.how}.`;
    return { ph: value.text, label: table.label, ...answered([reason], [table.source], cautions(table)) };
  },
});
