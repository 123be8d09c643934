import { firstWhere } from './by-key.ts';
import type { Contact } from './contact.ts';
import type { EquipmentIndex, PlacedBlank } from './equipment-index.ts';
import { compareMoments, type Moment } from './moment.ts';
import { isOnAt, isOnDuring, type PartStay } from './part-stay.ts';
import type { TouchedSample } from './touched-samples.ts';
import { unitName } from './unit-kind.ts';

/** What carries water from one well to another: a unit, or a soft part, which takes it along from unit to unit. */
export interface Carrier {
  readonly kind: 'unit' | 'part';
  readonly id: string;
}

export function carrierName(index: EquipmentIndex, { kind, id }: Carrier): string {
  if (kind === 'unit') return unitName(index.units.get(id), id);
  const part = index.parts.get(id)?.fields;
  const name = part?.label ?? part?.lot ?? id;
  return part ? `${part.type.replaceAll('-', ' ')} ${name}` : name;
}

/** A part that was taken off and put on again within it is one all the same. */
function carriersOf(unit: string, stays: readonly PartStay[]): readonly Carrier[] {
  const parts = new Set(stays.map(({ part }) => part));
  return [{ kind: 'unit', id: unit }, ...[...parts].map((id): Carrier => ({ kind: 'part', id }))];
}

/** The unit and the soft parts that were on it at this moment. */
export function carriersAt(index: EquipmentIndex, unit: string, moment: Moment): readonly Carrier[] {
  return carriersOf(
    unit,
    (index.staysOfUnit.get(unit) ?? []).filter((stay) => isOnAt(stay, moment)),
  );
}

/** The unit and the soft parts that were on it while it was at this well. */
export function carriersDuring(index: EquipmentIndex, contact: Contact): readonly Carrier[] {
  return carriersOf(contact.unit, index.staysDuring.get(contact) ?? []);
}

function staysOf(index: EquipmentIndex, { id }: Carrier): readonly PartStay[] {
  return index.staysOfPart.get(id) ?? [];
}

/** Of a list sorted by time, what a stay can have to do with: from the last before it on, until its end. */
function within<Item>(sorted: readonly Item[], stay: PartStay, ms: (item: Item) => number): readonly Item[] {
  const first = firstWhere(sorted, (item) => ms(item) >= stay.from.ms);
  const end = stay.until === null ? sorted.length : firstWhere(sorted, (item) => ms(item) > (stay.until?.ms ?? 0));
  return sorted.slice(Math.max(first - 1, 0), end);
}

/** Every stay at a well, earliest first, without what stood beside it. */
export function contactsOfCarrier(index: EquipmentIndex, carrier: Carrier): readonly Contact[] {
  const ofUnit = (unit: string) => index.lines.get(unit)?.wet ?? [];
  if (carrier.kind === 'unit') return ofUnit(carrier.id);
  const during = staysOf(index, carrier).flatMap((stay) =>
    within(ofUnit(stay.unit), stay, ({ from }) => from.ms).filter((contact) => isOnDuring(stay, contact)),
  );
  return [...new Set(during)].toSorted((a, b) => compareMoments(a.from, b.from));
}

/** The samples that it touched, earliest first. */
export function samplesOfCarrier(index: EquipmentIndex, carrier: Carrier): readonly TouchedSample[] {
  if (carrier.kind === 'unit') return index.samplesOfUnit.get(carrier.id) ?? [];
  const touched = staysOf(index, carrier).flatMap((stay) =>
    (index.samplesOfUnit.get(stay.unit) ?? []).filter(({ contact }) => isOnDuring(stay, contact)),
  );
  return [...new Set(touched)].toSorted((a, b) => compareMoments(a.collected, b.collected));
}

/** The equipment blanks that were taken through it, earliest first. */
export function blanksOfCarrier(index: EquipmentIndex, carrier: Carrier): readonly PlacedBlank[] {
  if (carrier.kind === 'unit') return index.blanksOfUnit.get(carrier.id) ?? [];
  const through = staysOf(index, carrier).flatMap((stay) =>
    (index.blanksOfUnit.get(stay.unit) ?? []).filter(({ collected }) => isOnAt(stay, collected)),
  );
  return [...new Set(through)].toSorted((a, b) => compareMoments(a.collected, b.collected));
}
