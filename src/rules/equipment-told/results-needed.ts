import { blanksOfCarrier, type Carrier, contactsOfCarrier } from '../equipment/carrier.ts';
import type { Contact } from '../equipment/contact.ts';
import type { EquipmentIndex } from '../equipment/equipment-index.ts';
import { wentInClean } from '../equipment/went-in-clean.ts';

/** Stays in a row without a cleaning in between, where there are several; of a soft part all, be it cleaned or not. */
function runs(index: EquipmentIndex, carrier: Carrier): readonly (readonly Contact[])[] {
  const contacts = contactsOfCarrier(index, carrier);
  if (carrier.kind === 'part') return contacts.length > 1 ? [contacts] : [];
  const found: Contact[][] = [];
  for (const [at, contact] of contacts.entries()) {
    const run = found.at(-1);
    if (run === undefined || (at > 0 && wentInClean(index, contact))) found.push([contact]);
    else run.push(contact);
  }
  return found.filter((run) => run.length > 1);
}

/**
 * The samples and blanks whose results say whether something was carried over: those of stays between which nothing was
 * cleaned. Of all others, which are nearly all, no result is looked at.
 */
export function resultsNeeded(index: EquipmentIndex, carriers: readonly Carrier[]): readonly string[] {
  const ids = carriers.flatMap((carrier) =>
    runs(index, carrier).flatMap((run) => {
      const [fromMs, untilMs] = [run[0]?.from.ms ?? 0, run.at(-1)?.from.ms ?? 0];
      const blanks = blanksOfCarrier(index, carrier).filter(
        ({ collected }) => collected.ms >= fromMs && collected.ms <= untilMs,
      );
      const samples = run.flatMap(({ visit }) => index.samplesOfVisit.get(visit) ?? []);
      return [...samples, ...blanks].map(({ record }) => record.id);
    }),
  );
  return [...new Set(ids)];
}
