import { z } from 'zod';
import { decimal } from '../../protocol/primitives.ts';
import { plumbDepthFt as plumb } from '../../science/levels/plumb-depth.ts';
import { isRefusal } from '../../science/refusal.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'USGS Pacific Islands, errors of synoptic surveys, archived web page: 1 ft out of plumb in 100 ft reads 100.005 ft',
];

export const tapeOutOfPlumb = defineQuestion({
  name: 'tape-out-of-plumb',
  title: 'How deep is the water straight down, in a well that is out of plumb?',
  description:
    'Depth straight down under the reading of a taut tape, from how far the well leans to the side over that length. A lean of 1 ft in 100 ft costs 0.005 ft, one of 5 ft already 0.125 ft.',
  sources: SOURCES,
  input: z
    .strictObject({
      tapeReadingFt: decimal.describe('Along the tape'),
      offsetFt: decimal.describe('How far to the side of the measuring point the water is, of a survey of the well'),
    })
    .meta({ examples: [{ tapeReadingFt: '100.005', offsetFt: '1' }] }),
  output: z.strictObject({
    plumbDepthFt: figure('Straight down'),
    tapeTooLongFt: figure('By how much the tape reads more'),
    ...answerFields,
  }),
  answer({ tapeReadingFt, offsetFt }) {
    const depth = plumb(Number(tapeReadingFt), Number(offsetFt));
    if (isRefusal(depth)) return { plumbDepthFt: null, tapeTooLongFt: null, ...unanswered(depth, SOURCES) };
    const tapeTooLongFt = placesText(Number(tapeReadingFt) - depth, 3);
    return {
      plumbDepthFt: placesText(depth, 3),
      tapeTooLongFt,
      ...answered([`The tape reads ${tapeTooLongFt} ft more than straight down.`], SOURCES, [
        'A tape that hangs against the casing, a stretched tape (up to 0.1 ft in 100 ft) and a wrong datum can each weigh more.',
      ]),
    };
  },
});
