import type { Contact } from './contact.ts';
import type { EquipmentIndex } from './equipment-index.ts';
import { isCleanFor } from './unit-life.ts';

/** Whether its unit brought nothing into a well by its own records, whatever its cleaning serves against. */
export function wentInClean(index: EquipmentIndex, contact: Contact): boolean {
  const line = index.lines.get(contact.unit);
  const found = line?.life.foundIn.get(contact);
  return found !== undefined && isCleanFor(found, contact, line?.unit);
}
