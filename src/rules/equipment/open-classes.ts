import type { ContaminantClass } from '../../catalog/decon/decon-protocol.ts';
import { deconProtocol } from '../../catalog/decon/decon-protocols.ts';
import { classWritten, inClassOrder } from '../decon/classes-of-suites.ts';
import { listText } from '../flags/list-text.ts';
import type { Contact } from './contact.ts';
import type { DeconSpan } from './decon-span.ts';
import { type EquipmentIndex, wellName } from './equipment-index.ts';
import type { WellRecord } from './equipment-records.ts';
import { isOwnWell, unitName } from './unit-kind.ts';
import type { UnitLine } from './unit-line.ts';

/** What a unit that counts as clean may carry on: no cleaning since the last well serves against it. */
export interface OpenClasses {
  readonly classes: readonly ContaminantClass[];
  readonly before: Contact;
  readonly left: WellRecord;
  /** The cleanings by which it counts as clean. */
  readonly decons: readonly DeconSpan[];
}

interface Into {
  readonly line: UnitLine;
  /** The last stay before. */
  readonly before: Contact | null | undefined;
  readonly well: string | undefined;
  readonly atMs: number;
}

/** Null where all that the last well is known to hold was cleaned off, or nobody cleaned it: that is told otherwise. */
export function openClassesInto(index: EquipmentIndex, { line, before, well, atMs }: Into): OpenClasses | null {
  if (!before || before.well === well) return null;
  const left = index.wells.get(before.well);
  const decons = line.decons.filter(
    ({ standing, began, until }) => standing.isClean && began.ms >= before.from.ms && until.ms <= atMs,
  );
  const protocols = decons.flatMap(({ record }) => deconProtocol(record.fields.protocol) ?? []);
  const served = new Set(protocols.flatMap(({ against }) => against));
  const classes = inClassOrder((left?.fields.contaminants ?? []).filter((one) => !served.has(one)));
  return left && protocols.length > 0 && classes.length > 0 ? { classes, before, left, decons } : null;
}

/** The same of a stay of a unit down a well. */
export function openClassesAt(index: EquipmentIndex, line: UnitLine, contact: Contact): OpenClasses | null {
  if (contact.how !== 'down-the-well' || isOwnWell(contact, line.unit)) return null;
  const before = line.wet[line.wet.indexOf(contact) - 1];
  return openClassesInto(index, { line, before, well: contact.well, atMs: contact.from.ms });
}

/** '"Pump and line: ..." and "..."': by what it was cleaned. */
export function cleanedBy({ decons }: OpenClasses): string {
  const titles = decons.flatMap(({ record }) => deconProtocol(record.fields.protocol)?.title ?? []);
  return listText([...new Set(titles)].toSorted().map((title) => `"${title}"`));
}

/** That it was cleaned, and not of this. */
export function openSentence(index: EquipmentIndex, line: UnitLine, open: OpenClasses): string {
  const classes = listText(open.classes.map(classWritten));
  const from = wellName(index, open.before.well);
  return `${unitName(line.unit, line.id)} came out of ${from}, which holds ${classes}, and was cleaned by ${cleanedBy(open)}, which does not serve against ${classes}.`;
}
