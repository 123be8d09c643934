import type { Contact } from './contact.ts';
import { compareMoments, type Moment } from './moment.ts';

/** The first of the sorted moments after this one. */
function firstAfter(moments: readonly Moment[], from: Moment): Moment | undefined {
  let low = 0;
  let high = moments.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((moments[middle]?.ms ?? 0) > from.ms) high = middle;
    else low = middle + 1;
  }
  return moments[low];
}

function earliest(moments: readonly (Moment | null | undefined)[]): Moment | null {
  const given = moments.filter((one) => one !== null && one !== undefined);
  return given.reduce<Moment | null>((a, b) => (a === null || compareMoments(b, a) < 0 ? b : a), null);
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
