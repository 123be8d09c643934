import { travelledWith } from '../../samples/completeness/spoken-for.ts';
import type { EventSamples } from '../../samples/event-samples.ts';
import type { BlankRecord, SampleRecord } from '../../samples/sample-records.ts';
import { toldNumber } from '../../samples/told-to-laboratory.ts';
import { firstOf } from '../first-of.ts';

interface Known {
  readonly of: EventSamples;
  /** What a number names for whoever asks: of what else was in the cooler nothing is said. */
  readonly named: ReadonlyMap<string, readonly { readonly id: string }[]>;
}

/**
 * What is to be asked where something was found in a trip blank: it speaks for the samples with a bottle for the same
 * beside it. They are named as a laboratory is told them, which knows from its list what was in which cooler. By
 * how much a sample must exceed its blank is for the plan of the project: no factor is applied.
 *
 * Null for a blank of another type: which crew or unit a field or equipment blank shares with a sample is not told to a
 * laboratory, and is followed in the trail of the unit.
 */
export function tripBlankNote(blank: BlankRecord, analyte: string, { of, named }: Known): string | null {
  if (blank.fields.type !== 'trip') return null;
  const known = ({ id }: SampleRecord, number: string) => named.get(number)?.some((one) => one.id === id) ?? false;
  const numbers = travelledWith({ of }, blank).samples.flatMap((sample) => {
    const number = toldNumber(sample, of);
    return known(sample, number) ? number : [];
  });
  const found = `${analyte} was found in the trip blank ${toldNumber(blank, of)}`;
  if (numbers.length === 0) return `${found}; no sample of its suites is known to have travelled with it`;
  return `${found}: it questions what travelled with it, ${firstOf(numbers.toSorted())}`;
}
