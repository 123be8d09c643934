import type { EventSamples } from '../samples/event-samples.ts';
import { isBlind, toldNumber } from '../samples/told-to-laboratory.ts';

const WITHHELD = '(withheld: the text names what a laboratory is not told; the office may word it anew)';

/** Words of the field that a laboratory must not read: what blind ones repeat and are called, and wells where there are some. */
function hiddenWords(of: EventSamples): readonly string[] {
  const all = [...of.samples, ...of.blanks, ...of.plannedSamples];
  const numbers = all.flatMap((one) => (toldNumber(one, of) === one.fields.number ? [] : [one.fields.number]));
  const hasBlind = [...of.samples, ...of.plannedSamples].some((one) => isBlind(one, of));
  return hasBlind ? [...numbers, ...of.wells.map(({ fields }) => fields.name), 'duplicat', 'blind'] : numbers;
}

/** A text that somebody of the firm wrote, as a laboratory may read it: whole, or not at all. */
export function tellableText(of: EventSamples): (text: string) => string {
  const hidden = hiddenWords(of).map((word) => word.toLowerCase());
  return (text) => {
    const plain = text.toLowerCase();
    return hidden.some((word) => plain.includes(word)) ? WITHHELD : text;
  };
}
