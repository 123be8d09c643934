import { firstWhere } from './by-key.ts';
import type { Contact } from './contact.ts';
import { isNextOfOwn, type Moment } from './moment.ts';
import { earliestFirst } from './within-a-minute.ts';

/** The first of the sorted moments after this one; within its minute only what the same device recorded after it. */
function firstAfter(moments: readonly Moment[], from: Moment): Moment | undefined {
  let at = firstWhere(moments, ({ ms }) => ms >= from.ms);
  for (let one = moments[at]; one?.ms === from.ms; one = moments[++at]) if (isNextOfOwn(one, from)) return one;
  return moments[at];
}

function earliest(moments: readonly (Moment | null | undefined)[]): Moment | null {
  const given = moments.filter((one) => one !== null && one !== undefined);
  return earliestFirst(given, (one) => one)[0] ?? null;
}

export interface EndsElsewhere {
  /** Beginnings of decontamination, parts taken out: nobody does that down the well. Sorted. */
  readonly takenApart: readonly Moment[];
  /** Arrivals, services and returns. Sorted. */
  readonly away: readonly Moment[];
}

/**
 * A unit stays in its well until a record says otherwise. An end that somebody recorded stands; one that only follows
 * from the crew's leaving gives way to what was done to the unit before; and where nothing gives an end, the next record
 * of the unit elsewhere does.
 */
export function clipped(contacts: readonly Contact[], { takenApart, away }: EndsElsewhere): readonly Contact[] {
  const starts = contacts.filter(({ how }) => how !== 'beside-the-well').map(({ from }) => from);
  return contacts.map((contact) => {
    const { from, until, ends, how } = contact;
    if (ends === 'said' || how === 'beside-the-well') return contact;
    const open = ends === 'open' ? [firstAfter(starts, from), firstAfter(away, from)] : [];
    return { ...contact, until: earliest([until, firstAfter(takenApart, from), ...open]) };
  });
}
