import { clashesOf, inOrder } from './claim-clash.ts';
import { type ClaimClash, type Names, nameOf, type SignOut } from './claim-record.ts';

/** Of each sign-out without an end the next one of its unit that was itself ended: by then the unit was back. */
function returnsAfter(signOuts: readonly SignOut[]): ReadonlyMap<string, SignOut> {
  const live = signOuts.filter(({ voided }) => voided === null).toSorted((a, b) => (inOrder(a, b)[0] === a ? -1 : 1));
  const next = new Map<string, SignOut>();
  const returns = new Map<string, SignOut>();
  for (const one of live.toReversed()) {
    const { unit, until } = one.fields;
    const later = returns.get(unit);
    if (until !== undefined) returns.set(unit, one);
    else if (later) next.set(one.id, later);
  }
  return next;
}

/**
 * Sign-outs that clash: one unit with two crews at the same time. Handing on ends the sign-out before; one whose return
 * was forgotten is asked about once, at the next that was returned, and not again at each that follows.
 */
export function signOutClashes(signOuts: readonly SignOut[], names: Names = new Map()): readonly ClaimClash[] {
  const returned = returnsAfter(signOuts);
  return clashesOf<SignOut>(
    {
      type: 'sign-out',
      thing: ({ fields }) => fields.unit,
      excused: (a, b) => {
        const [earlier, later] = inOrder(a, b);
        const back = returned.get(earlier.id);
        return back !== undefined && back.id !== later.id && inOrder(back, later)[0].id === back.id;
      },
      value: ({ fields: { crew, from, until } }) => ({ crew, from, ...(until === undefined ? {} : { until }) }),
      sentence: (earlier, later) => {
        const crews = [earlier, later].map(({ fields }) => nameOf(names, fields.crew));
        return `${crews.join(' and ')} both have ${nameOf(names, later.fields.unit)} from ${later.fields.from} on.`;
      },
    },
    signOuts,
  );
}
