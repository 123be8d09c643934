import { clashesOf } from './claim-clash.ts';
import { type ClaimClash, type Names, nameOf, type SignOut } from './claim-record.ts';

/** Sign-outs that clash: one unit with two crews at the same time. Handing on ends the sign-out before. */
export function signOutClashes(signOuts: readonly SignOut[], names: Names = new Map()): readonly ClaimClash[] {
  return clashesOf<SignOut>(
    {
      type: 'sign-out',
      thing: ({ fields }) => fields.unit,
      excused: () => false,
      value: ({ fields: { crew, from, until } }) => ({ crew, from, ...(until === undefined ? {} : { until }) }),
      sentence: (earlier, later) => {
        const crews = [earlier, later].map(({ fields }) => nameOf(names, fields.crew));
        return `${crews.join(' and ')} both have ${nameOf(names, later.fields.unit)} from ${later.fields.from} on.`;
      },
    },
    signOuts,
  );
}
