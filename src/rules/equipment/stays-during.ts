import type { Contact } from './contact.ts';
import { isOffBefore, isOnDuring, type PartStay } from './part-stay.ts';

/** Which soft parts were on a unit at each of its wells, in one walk over both lists, each earliest first. */
export function staysDuring(
  contacts: readonly Contact[],
  stays: readonly PartStay[],
): ReadonlyMap<Contact, readonly PartStay[]> {
  const found = new Map<Contact, readonly PartStay[]>();
  let next = 0;
  let open: PartStay[] = [];
  for (const contact of contacts) {
    const endMs = contact.until?.ms ?? Number.POSITIVE_INFINITY;
    for (let stay = stays[next]; stay && stay.from.ms <= endMs; stay = stays[next]) {
      open.push(stay);
      next += 1;
    }
    open = open.filter((stay) => !isOffBefore(stay, contact.from));
    found.set(
      contact,
      open.filter((stay) => isOnDuring(stay, contact)),
    );
  }
  return found;
}
