import type { EventSamples } from '../samples/event-samples.ts';
import { namesNumber } from '../samples/names-number.ts';
import { isBlind, toldNumber } from '../samples/told-to-laboratory.ts';

const WITHHELD = '(withheld: the text names what a laboratory is not told; the office may word it anew)';

/** Words of the field that a laboratory must not read: what blind ones repeat and are called, and wells where there are some. */
function hiddenWords(of: EventSamples): readonly string[] {
  const all = [...of.samples, ...of.blanks, ...of.plannedSamples];
  const numbers = all.flatMap((one) => (toldNumber(one, of) === one.fields.number ? [] : [one.fields.number]));
  const hasBlind = [...of.samples, ...of.plannedSamples].some((one) => isBlind(one, of));
  return hasBlind ? [...numbers, ...of.wells.map(({ fields }) => fields.name), 'duplicat', 'blind'] : numbers;
}

/** Numbers of samples as told and as written, where there is a blind duplicate that one of them can be paired with. */
function pairedNumbers(of: EventSamples): readonly string[] {
  const all = [...of.samples, ...of.plannedSamples];
  if (!all.some((one) => isBlind(one, of))) return [];
  return [...new Set(all.flatMap((one) => [toldNumber(one, of), one.fields.number]))];
}

/**
 * What a value was before it was corrected, and why, as a laboratory may read it. It stands beside one sample, so that with a
 * blind duplicate in the event it names none at all: the one that it was mistaken for is likely its parent.
 */
export function tellableFormerText(of: EventSamples): (text: string) => string {
  const [tellable, numbers] = [tellableText(of), pairedNumbers(of)];
  return (text) => (numbers.some((number) => namesNumber(text, number)) ? WITHHELD : tellable(text));
}

/** A text that somebody of the firm wrote, as a laboratory may read it: whole, or not at all. */
export function tellableText(of: EventSamples): (text: string) => string {
  const hidden = hiddenWords(of).map((word) => word.toLowerCase());
  return (text) => {
    const plain = text.toLowerCase();
    return hidden.some((word) => plain.includes(word)) ? WITHHELD : text;
  };
}
