import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { secondPurges, type WellRound } from '../../../src/rules/flags/second-purge.ts';
import { SECOND_PURGE_RULE, type SecondPurgeVector } from '../../../src/rules/flags/second-purge-rule.ts';

const NOBODY = { by: null, client: null, mutation: null, reason: null, clock: null };
const VOIDED = { reason: 'wrong', by: null } as never;

function roundOf({ stops, relieved }: Pick<SecondPurgeVector, 'stops' | 'relieved'>): WellRound {
  const claims = stops.map(({ crew, at }, place) => {
    const from = `2026-05-04T${at}:00-05:00`;
    const handedOver = relieved && place === 1 ? { handedOverFrom: 'claim-0' } : {};
    const fields = { event: 'e', well: 'w', crew, from, observed: { at: from }, ...handedOver };
    return { id: `claim-${place}`, voided: null, fields: fields as never };
  });
  return {
    visits: stops.map(({ crew, at, method = 'low-flow', outcome, left, voided }, place) => {
      const arrived = `2026-05-04T${at}:00-05:00`;
      const ended = left ? { left: '2026-05-04T16:00:00-05:00' } : {};
      const fields = { event: 'e', well: 'w', crew, method, arrived, ...ended, ...(outcome ? { outcome } : {}) };
      return { kind: 'visit', id: `visit-${place}`, rev: 1, ...NOBODY, voided: voided ? VOIDED : null, fields };
    }),
    setUps: stops.flatMap(({ pump }, place) =>
      pump === undefined ? [] : [{ voided: null, fields: { visit: `visit-${place}`, pump } }],
    ),
    samples: stops.flatMap(({ sample }, place) =>
      sample === undefined
        ? []
        : [{ voided: sample === 'voided' ? VOIDED : null, fields: { visit: `visit-${place}` } }],
    ),
    claims: relieved ? claims : [],
  };
}

function asked(round: WellRound): string[] {
  return secondPurges(round, 'MW-3').map(({ subject }) => subject);
}

describe(SECOND_PURGE_RULE.code, () => {
  it.each(SECOND_PURGE_RULE.vectors)('$name', (vector) => {
    expect(asked(roundOf(vector))).toEqual(vector.expect.map((place) => `visit-${place}`));
  });

  it.each(SECOND_PURGE_RULE.vectors)('$name, in whatever order the records came', (vector) => {
    const { visits, setUps, samples, claims } = roundOf(vector);
    const shuffled = fc.shuffledSubarray([...visits], { minLength: visits.length });
    const flags = secondPurges({ visits, setUps, samples, claims }, 'MW-3');
    fc.assert(
      fc.property(shuffled, (its) => {
        const other = { visits: its, setUps: setUps.toReversed(), samples, claims: claims.toReversed() };
        expect(secondPurges(other, 'MW-3')).toEqual(flags);
      }),
    );
  });

  it('asks at the later visit, now, and tells when the other crew arrived', () => {
    const [flag] = secondPurges(
      roundOf({
        stops: [
          { crew: 'a', at: '09:10' },
          { crew: 'b', at: '11:00' },
        ],
      }),
      'MW-3',
    );
    expect(flag).toMatchObject({ subject: 'visit-1', severity: 'question', addressee: 'now', standing: 'raised' });
    expect(flag?.sentence).toContain(
      'MW-3 is purged by another crew in this event, which arrived at 2026-05-04 09:10.',
    );
    expect(new Set(flag?.evidence.map(({ record }) => record))).toEqual(new Set(['visit-0', 'visit-1']));
  });

  it('asks tonight once the later crew has left, and tells that the first has a sample', () => {
    const first = { crew: 'a', at: '09:10', outcome: 'sampled', left: true } as const;
    const [flag] = secondPurges(roundOf({ stops: [first, { ...first, crew: 'b', at: '11:00' }] }), 'MW-3');
    expect(flag).toMatchObject({ addressee: 'tonight' });
    expect(flag?.sentence).toContain('purged and sampled');
  });
});
