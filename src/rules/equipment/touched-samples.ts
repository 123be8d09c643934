import { byKey } from './by-key.ts';
import type { Contact } from './contact.ts';
import type { SampleRecord } from './equipment-records.ts';
import { compareMoments, type Moment, momentOf } from './moment.ts';

export interface PlacedSample {
  readonly record: SampleRecord;
  readonly collected: Moment;
}

/** A sample that was taken while a unit was at its well. */
export interface TouchedSample extends PlacedSample {
  readonly contact: Contact;
}

export function placedSample(record: SampleRecord): PlacedSample {
  return { record, collected: momentOf(record, record.fields.collected) };
}

/**
 * Of the stays of one unit in one visit, the one by which a sample was taken: the last that had begun by then. A label
 * that says an earlier time than any set-up is still a sample of this visit.
 */
function behind(contacts: readonly Contact[], { collected }: PlacedSample): Contact | undefined {
  return contacts.findLast(({ from }) => from.ms <= collected.ms) ?? contacts[0];
}

/** A pump that had been swapped for another by then did not lift the sample. */
function isSwappedOut(contact: Contact, { collected }: PlacedSample, rivals: readonly Contact[]): boolean {
  const { until } = contact;
  if (contact.ends !== 'said' || until === null || until.ms > collected.ms) return false;
  return rivals.some(({ unit, from }) => unit !== contact.unit && from.record === until.record);
}

export interface VisitSamples {
  readonly samplesOf: (visit: string) => readonly PlacedSample[];
  /** Every stay of any unit in a visit. */
  readonly contactsOf: (visit: string) => readonly Contact[];
}

/** The samples that a unit touched, earliest first: a sample once, whatever the number of records that link the two. */
export function touchedSamples(contacts: readonly Contact[], visit: VisitSamples): readonly TouchedSample[] {
  const wet = contacts.filter(({ how }) => how !== 'beside-the-well');
  return [...byKey(wet, (contact) => contact.visit)]
    .flatMap(([id, its]) =>
      visit.samplesOf(id).flatMap((sample) => {
        const contact = behind(its, sample);
        return contact && !isSwappedOut(contact, sample, visit.contactsOf(id)) ? [{ ...sample, contact }] : [];
      }),
    )
    .sort((a, b) => compareMoments(a.collected, b.collected));
}
