import type { EventSamples } from '../../samples/event-samples.ts';
import type { BlankRecord, SampleRecord } from '../../samples/sample-records.ts';
import { toldNumber } from '../../samples/told-to-laboratory.ts';

/** The most samples that are named; beyond it they are counted. */
const SHOWN = 20;

interface Known {
  readonly of: EventSamples;
  /** What a number names for whoever asks: of what else was in the cooler nothing is said. */
  readonly named: ReadonlyMap<string, readonly { readonly id: string }[]>;
}

/** Coolers that a trip blank travelled in; its vials are in one, as a rule. */
function coolersOf({ containers }: EventSamples, blank: string): ReadonlySet<string> {
  return new Set(containers.flatMap(({ fields }) => (fields.blank === blank ? (fields.cooler ?? []) : [])));
}

function isAskedAlike(sample: SampleRecord, blank: BlankRecord): boolean {
  return sample.fields.suites.some((suite) => blank.fields.suites.includes(suite));
}

/**
 * What is to be asked where something was found in a trip blank: it speaks for the samples that travelled with it and are
 * for the same suites. They are named as a laboratory is told them, which knows from its list what was in which cooler. By
 * how much a sample must exceed its blank is for the plan of the project: no factor is applied.
 *
 * Null for a blank of another type: which crew or unit a field or equipment blank shares with a sample is not told to a
 * laboratory, and is followed in the trail of the unit.
 */
export function tripBlankNote(blank: BlankRecord, analyte: string, { of, named }: Known): string | null {
  if (blank.fields.type !== 'trip') return null;
  const coolers = coolersOf(of, blank.id);
  const beside = new Set(
    of.containers.flatMap(({ fields }) => (coolers.has(fields.cooler ?? '') ? (fields.sample ?? []) : [])),
  );
  const its = of.samples.filter((sample) => beside.has(sample.id) && isAskedAlike(sample, blank));
  const known = ({ id }: SampleRecord, number: string) => named.get(number)?.some((one) => one.id === id) ?? false;
  const numbers = its.flatMap((sample) => {
    const number = toldNumber(sample, of);
    return known(sample, number) ? number : [];
  });
  const found = `${analyte} was found in the trip blank ${toldNumber(blank, of)}`;
  if (numbers.length === 0) return `${found}; no sample of its suites is known to have travelled with it`;
  const more = numbers.length > SHOWN ? ` and ${numbers.length - SHOWN} more` : '';
  return `${found}: it questions what travelled with it, ${numbers.toSorted().slice(0, SHOWN).join(', ')}${more}`;
}
