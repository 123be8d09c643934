import { fieldEvidence } from '../../flags/evidence.ts';
import type { Evidence } from '../../flags/raised-flag.ts';
import type { Contact } from '../contact.ts';
import { type EquipmentIndex, wellName } from '../equipment-index.ts';
import { momentText } from '../moment.ts';
import { unitName } from '../unit-kind.ts';
import type { EquipmentFacts, EquipmentFault } from './equipment-rule.ts';
import type { EntryCause, WellEntry } from './well-entry.ts';

export const REGION_1 = 'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 8 of 13';
export const DEPOT_NEW_PARTS =
  'US Army depot procedure SOP-003, rev. 1, Apr 2019, 3.2, county file, doc 798934, page 69';
export const DEPOT_BEFORE_USE =
  'US Army depot procedure SOP-003, rev. 1, Apr 2019, 3.1, county file, doc 798934, page 68';
export const PRACTICE = 'Common practice, no source';

/** The record that a stay begins with. */
export function contactEvidence(index: EquipmentIndex, { from, well }: Contact): Evidence {
  return { record: from.record, shows: `${wellName(index, well)} ${momentText(from)}` };
}

export function entryName({ line }: WellEntry): string {
  return unitName(line.unit, line.id);
}

function evidenceOf(index: EquipmentIndex, { contact, before, overlapped, found }: WellEntry): readonly Evidence[] {
  const { cause } = found;
  return [
    contactEvidence(index, contact),
    ...[before, overlapped].flatMap((one) => (one ? [contactEvidence(index, one)] : [])),
    ...(cause.by === 'decon' ? [fieldEvidence(cause.decon.record, 'began')] : []),
    ...(cause.by === 'service' ? [fieldEvidence(cause.service.record, 'type')] : []),
  ];
}

/** A fault for every entry of this cause; its subject is the visit, for there it is mended. */
export function entryFaults(
  facts: EquipmentFacts,
  cause: EntryCause,
  sentence: (entry: WellEntry, well: string) => string,
): readonly EquipmentFault[] {
  return facts.entries
    .filter((entry) => entry.cause === cause)
    .map((entry) => ({
      subjectKind: 'visit',
      subject: entry.contact.visit,
      visit: entry.contact.visit,
      unit: entry.line.id,
      of: entry.line.id,
      isPossible: entry.isPossible,
      sentence: sentence(entry, wellName(facts.index, entry.contact.well)),
      evidence: evidenceOf(facts.index, entry),
    }));
}
