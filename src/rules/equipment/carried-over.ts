import { analyteKeys } from '../decon/analyte-key.ts';
import { firstWhere } from './by-key.ts';
import { blanksOfCarrier, type Carrier, carrierName, contactsOfCarrier, samplesOfCarrier } from './carrier.ts';
import type { Contact } from './contact.ts';
import type { DeconSpan } from './decon-span.ts';
import { type EquipmentIndex, type PlacedBlank, wellName } from './equipment-index.ts';
import type { ResultRecord } from './equipment-records.ts';
import { gravest, type Judgement } from './judged-sample.ts';
import { isOnAt } from './part-stay.ts';
import type { TouchedSample } from './touched-samples.ts';
import { WellsBehind } from './wells-behind.ts';
import { wentInClean } from './went-in-clean.ts';

export interface CarriedAnalyte extends Judgement {
  readonly analyte: string;
  readonly casNumber: string | null;
}

export interface CarriedSample extends Judgement {
  readonly sample: string;
  readonly number: string;
  /** None where no result is here yet. */
  readonly analytes: readonly CarriedAnalyte[];
}

/** A unit or a soft part that came into a well without a complete decon since another. */
export interface CarryOver {
  readonly carrier: Carrier;
  readonly visit: string;
  readonly well: string;
  /** As entered. */
  readonly from: string;
  /** The wells since it was last clean, without this one; last come first. */
  readonly fromWells: readonly string[];
  /** The decon in between that does not make it clean; null where none is recorded. */
  readonly decon: string | null;
  readonly samples: readonly CarriedSample[];
  readonly sentence: string;
}

interface Passage {
  readonly contact: Contact;
  readonly isClean: boolean;
  readonly decon: DeconSpan | undefined;
}

/** The cleanings of a carrier: those of its unit, or of the units that a part was on at the time. */
function deconsOf(index: EquipmentIndex, carrier: Carrier): readonly DeconSpan[] {
  if (carrier.kind === 'unit') return index.lines.get(carrier.id)?.decons ?? [];
  return (index.staysOfPart.get(carrier.id) ?? [])
    .flatMap((stay) => (index.lines.get(stay.unit)?.decons ?? []).filter(({ until }) => isOnAt(stay, until)))
    .toSorted((a, b) => a.began.ms - b.began.ms);
}

/** Begun after the contact before and over before this one; of a unit its own state says so. */
function cleaningBefore(decons: readonly DeconSpan[], before: Contact, contact: Contact): readonly DeconSpan[] {
  const first = firstWhere(decons, ({ began }) => began.ms >= before.from.ms);
  const end = firstWhere(decons, ({ began }) => began.ms > contact.from.ms);
  return decons.slice(first, end).filter(({ until }) => until.ms <= contact.from.ms);
}

function passages(index: EquipmentIndex, carrier: Carrier): readonly Passage[] {
  const contacts = contactsOfCarrier(index, carrier);
  const decons = deconsOf(index, carrier);
  return contacts.map((contact, at) => {
    const before = contacts[at - 1];
    const between = before ? cleaningBefore(decons, before, contact) : [];
    const isClean =
      carrier.kind === 'unit' ? wentInClean(index, contact) : between.some(({ standing }) => standing.isClean);
    return { contact, isClean: isClean || before === undefined, decon: between.at(-1) };
  });
}

/** The clean blanks between two contacts take from the wells behind what they were clean of. */
function clearByBlanks(
  index: EquipmentIndex,
  blanks: readonly PlacedBlank[],
  behind: WellsBehind,
  before: Contact,
  contact: Contact,
) {
  const first = firstWhere(blanks, ({ collected }) => collected.ms >= before.from.ms);
  const end = firstWhere(blanks, ({ collected }) => collected.ms > contact.from.ms);
  for (const { record } of blanks.slice(first, end))
    behind.clearedBy(record.fields.number, index.resultsOfBlank.get(record.id) ?? []);
}

function analyteOf(
  { fields }: ResultRecord,
  behind: WellsBehind,
  index: EquipmentIndex,
  wells: readonly string[],
): CarriedAnalyte {
  const { analyte, casNumber } = fields;
  const named = (id: string) => wellName(index, id);
  return { analyte, casNumber: casNumber ?? null, ...behind.judge(fields, wells, named) };
}

function judged(
  index: EquipmentIndex,
  { record }: TouchedSample,
  behind: WellsBehind,
  wells: readonly string[],
): CarriedSample {
  const results = index.resultsOfSample.get(record.id) ?? [];
  const analytes = results
    .map((result) => analyteOf(result, behind, index, wells))
    .toSorted((a, b) => (analyteKeys(a).join() < analyteKeys(b).join() ? -1 : 1));
  const none = `No result of ${record.fields.number} is here yet.`;
  const { standing, sentence } = gravest(analytes) ?? { standing: 'cannot-tell' as const, sentence: none };
  return { sample: record.id, number: record.fields.number, analytes, standing, sentence };
}

function groupedByContact(samples: readonly TouchedSample[]): ReadonlyMap<Contact, readonly TouchedSample[]> {
  const groups = new Map<Contact, TouchedSample[]>();
  for (const sample of samples) groups.set(sample.contact, [...(groups.get(sample.contact) ?? []), sample]);
  return groups;
}

function resultsAt(index: EquipmentIndex, { visit }: Contact): readonly ResultRecord[] {
  return (index.samplesOfVisit.get(visit) ?? []).flatMap(({ record }) => index.resultsOfSample.get(record.id) ?? []);
}

function sentenceOf(
  index: EquipmentIndex,
  carrier: Carrier,
  wells: readonly string[],
  { contact, decon }: Passage,
): string {
  const name = carrierName(index, carrier);
  const from = wellName(index, wells[0] ?? '');
  const why = decon ? `its decon is not complete. ${decon.standing.sentence}` : 'no decon is recorded in between.';
  return `${name} came into ${wellName(index, contact.well)} from ${from}: ${why}`;
}

/**
 * Every time that a unit or a soft part came into a well with the water of another on it by its records, with the samples
 * taken then: in question for what was found in the wells behind it, cleared of what was not, or of what a clean blank in
 * between shows. It ends with the next complete decon.
 *
 * Source: cleaned after every well, US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 8 of 13; how the samples are
 * sorted is common practice, no source.
 */
export function carriedOver(index: EquipmentIndex, carrier: Carrier): readonly CarryOver[] {
  const behind = new WellsBehind();
  const samples = groupedByContact(samplesOfCarrier(index, carrier));
  const blanks = blanksOfCarrier(index, carrier);
  const found: CarryOver[] = [];
  let before: Contact | undefined;
  for (const passage of passages(index, carrier)) {
    const { contact, isClean, decon } = passage;
    if (isClean) behind.forget();
    if (before) clearByBlanks(index, blanks, behind, before, contact);
    const fromWells = behind.wellsBut(contact.well);
    if (fromWells.length > 0)
      found.push({
        carrier,
        visit: contact.visit,
        well: contact.well,
        from: contact.from.at,
        fromWells,
        decon: decon?.record.id ?? null,
        samples: (samples.get(contact) ?? []).map((sample) => judged(index, sample, behind, fromWells)),
        sentence: sentenceOf(index, carrier, fromWells, passage),
      });
    behind.meet(contact.well, resultsAt(index, contact));
    before = contact;
  }
  return found;
}
