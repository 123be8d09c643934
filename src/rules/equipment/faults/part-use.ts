import { deconProtocol } from '../../../catalog/decon/decon-protocols.ts';
import { contactsOfCarrier } from '../carrier.ts';
import type { Contact } from '../contact.ts';
import type { EquipmentIndex } from '../equipment-index.ts';
import type { PartChangeRecord } from '../equipment-records.ts';
import { compareMoments, momentOf } from '../moment.ts';
import { isOwnWell } from '../unit-kind.ts';
import type { EquipmentFacts } from './equipment-rule.ts';
import type { WellEntry } from './well-entry.ts';

/** Why a soft part should not have gone into a well; one cause each. */
export type PartCause = 'discarded' | 'of-another-well' | 'not-renewed';

/** A soft part that should not have gone into this well. */
export interface PartFault {
  readonly part: string;
  readonly contact: Contact;
  readonly cause: PartCause;
  /** Of `of-another-well` the well that it belongs to, of `not-renewed` the one it comes from. */
  readonly otherWell: string | null;
  readonly change: PartChangeRecord | null;
}

function latestBefore(index: EquipmentIndex, part: string, contact: Contact): PartChangeRecord | undefined {
  const placed = (index.changesOfPart.get(part) ?? [])
    .filter(({ fields }) => fields.action === 'discarded' || fields.action === 'kept-for-well')
    .map((record) => ({ record, moment: momentOf(record, record.fields.observed.at, record.fields.observed) }))
    .filter(({ moment }) => moment.ms < contact.from.ms)
    .toSorted((a, b) => compareMoments(a.moment, b.moment));
  const discarded = placed.find(({ record }) => record.fields.action === 'discarded');
  return (discarded ?? placed.at(-1))?.record;
}

/** The types that are renewed here: those of the plan, and those of the protocols by which the unit was cleaned. */
function isRenewed(facts: EquipmentFacts, part: string, from: Contact, contact: Contact): boolean {
  const type = facts.index.parts.get(part)?.fields.type;
  if (!type) return false;
  const line = facts.index.lines.get(contact.unit);
  const decons = (line?.decons ?? []).filter(({ began }) => began.ms >= from.from.ms && began.ms <= contact.from.ms);
  const byProtocol = decons.flatMap(({ record }) => deconProtocol(record.fields.protocol)?.steps ?? []);
  return (
    Boolean(facts.planOf(contact.visit).partsRenewed?.includes(type)) ||
    byProtocol.some(({ change }) => change === type)
  );
}

type Entries = ReadonlyMap<Contact, WellEntry>;

function faultOf(
  facts: EquipmentFacts,
  part: string,
  before: Contact | undefined,
  contact: Contact,
  entries: Entries,
): PartFault | null {
  const { index } = facts;
  const change = latestBefore(index, part, contact) ?? null;
  const common = { part, contact, change };
  if (change?.fields.action === 'discarded') return { ...common, cause: 'discarded', otherWell: null };
  const own = index.parts.get(part)?.fields.dedicatedTo ?? change?.fields.well ?? null;
  if (own !== null && own !== contact.well) return { ...common, cause: 'of-another-well', otherWell: own };
  if (!before || before.well === contact.well || isOwnWell(contact, index.units.get(contact.unit))) return null;
  // a unit that was not cleaned tells more than its parts
  if (entries.get(contact)?.cause !== null || !isRenewed(facts, part, before, contact)) return null;
  return { ...common, cause: 'not-renewed', otherWell: before.well };
}

/** Every time that a soft part went into a well where it should not have. */
export function partFaults(facts: EquipmentFacts): readonly PartFault[] {
  const entries = new Map(facts.entries.map((entry) => [entry.contact, entry]));
  return [...facts.index.staysOfPart.keys()].toSorted().flatMap((part) => {
    const contacts = contactsOfCarrier(facts.index, { kind: 'part', id: part });
    return contacts.flatMap((contact, at) => faultOf(facts, part, contacts[at - 1], contact, entries) ?? []);
  });
}
