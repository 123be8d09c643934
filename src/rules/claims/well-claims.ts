import { clashesOf } from './claim-clash.ts';
import { type ClaimClash, type Names, nameOf, type WellClaim } from './claim-record.ts';
import { inOneReliefLine } from './relief-line.ts';

/** Two phones at one well, or a relief crew that goes on with the pump in the well: one purge in parts. */
function samePump(a: WellClaim, b: WellClaim): boolean {
  return a.fields.pump !== undefined && a.fields.pump === b.fields.pump;
}

function crewWithPump({ fields }: WellClaim, names: Names): string {
  const pump = fields.pump === undefined ? 'no pump named' : `pump ${nameOf(names, fields.pump)}`;
  return `${nameOf(names, fields.crew)} (${pump})`;
}

/**
 * Well claims that clash: two crews at one well of one event at the same time with different pumps. Which of them works
 * the well is for a person to say; both claims stay.
 */
export function wellClaimClashes(claims: readonly WellClaim[], names: Names = new Map()): readonly ClaimClash[] {
  const byId = new Map(claims.map((claim) => [claim.id, claim]));
  return clashesOf<WellClaim>(
    {
      type: 'well-claim',
      thing: ({ fields }) => `${fields.event} ${fields.well}`,
      excused: (a, b) => samePump(a, b) || inOneReliefLine(a, b, byId),
      value: ({ fields: { crew, pump, from, until } }) => ({
        crew,
        ...(pump === undefined ? {} : { pump }),
        from,
        ...(until === undefined ? {} : { until }),
      }),
      sentence: (earlier, later) =>
        `${crewWithPump(earlier, names)} and ${crewWithPump(later, names)} both claim ${nameOf(names, later.fields.well)} from ${later.fields.from} on.`,
    },
    claims,
  );
}
