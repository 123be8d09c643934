import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { conflict } from '../../../src/protocol/kinds/conflict.ts';
import type { SignOut, WellClaim } from '../../../src/rules/claims/claim-record.ts';
import { signOutClashes } from '../../../src/rules/claims/sign-outs.ts';
import { wellClaimClashes } from '../../../src/rules/claims/well-claims.ts';

const MINUTE = 60_000;
const id = (name: string) => `00000000-0000-7000-8000-${Buffer.from(name).toString('hex').padStart(12, '0')}`;
const instant = (time: string) => `2026-05-04T${time}:00-05:00`;

interface Given {
  readonly crew: string;
  readonly from: string;
  readonly until?: string;
  readonly pump?: string;
  readonly after?: string;
  readonly well?: string;
  readonly captured?: 'at-the-well' | 'same-day' | 'from-paper';
  readonly differenceMs?: number;
  readonly uncertaintyMs?: number;
  readonly boot?: string;
  readonly anonymous?: boolean;
}

function common(name: string, given: Given) {
  const {
    crew,
    from,
    until,
    captured = 'at-the-well',
    differenceMs,
    uncertaintyMs = 0,
    anonymous,
    boot = name,
  } = given;
  const at = instant(from);
  const clock = { wall: at, monotonicMs: 0, boot, sequence: 1, differenceMs: differenceMs ?? 0, uncertaintyMs };
  const observed = { at, entered: at, captured, readBy: id('m'), writtenBy: id('m') };
  return {
    state: {
      id: id(name),
      rev: 1,
      voided: null,
      by: anonymous ? null : id('m'),
      client: anonymous ? null : id('phone'),
      mutation: anonymous ? null : 7,
      reason: null,
      clock: differenceMs === undefined ? null : clock,
    },
    fields: { crew: id(crew), from: at, ...(until ? { until: instant(until) } : {}), observed },
  };
}

function claim(name: string, given: Given): WellClaim {
  const { state, fields } = common(name, given);
  const well = id(given.well ?? 'MW-3');
  const pump = given.pump ? { pump: id(given.pump) } : {};
  const after = given.after ? { handedOverFrom: id(given.after) } : {};
  return { kind: 'well-claim', ...state, fields: { event: id('ev'), well, ...pump, ...after, ...fields } };
}

function signOut(name: string, given: Given & { unit?: string }): SignOut {
  const { state, fields } = common(name, given);
  return { kind: 'sign-out', ...state, fields: { unit: id(given.unit ?? 'P-1'), ...fields } };
}

const names = new Map([
  [id('A'), 'Crew A'],
  [id('B'), 'Crew B'],
  [id('P1'), 'P-1'],
  [id('MW-3'), 'MW-3'],
  [id('P-1'), 'P-1'],
]);
const a = claim('1', { crew: 'A', pump: 'P1', from: '10:00' });
const b = claim('2', { crew: 'B', pump: 'P2', from: '10:30' });

describe('well claims', () => {
  it('of two crews at one well with different pumps clash; the later one is asked about', () => {
    const clashes = wellClaimClashes([b, a], names);
    expect(clashes).toEqual([
      {
        key: `well-claim ${a.id} ${b.id}`,
        fields: {
          subjectKind: 'well-claim',
          subject: b.id,
          type: 'well-claim',
          sentence: `Crew A (pump P-1) and Crew B (pump ${id('P2')}) both claim MW-3 from 2026-05-04T10:30:00-05:00 on.`,
          certainty: 'certain',
          shown: {
            value: { crew: id('A'), pump: id('P1'), from: instant('10:00') },
            record: a.id,
            by: id('m'),
            client: id('phone'),
            mutation: 7,
          },
          kept: [
            {
              value: { crew: id('B'), pump: id('P2'), from: instant('10:30') },
              record: b.id,
              by: id('m'),
              client: id('phone'),
              mutation: 7,
            },
          ],
          standing: 'open',
        },
      },
    ]);
    expect(conflict.fields.safeParse(clashes[0]?.fields).error).toBeUndefined();
  });

  it('with no pump named clash too, for nobody can say that it is one', () => {
    const bare = claim('2', { crew: 'B', from: '10:30', anonymous: true });
    const [clash] = wellClaimClashes([a, bare]);
    expect(clash?.fields.sentence).toContain('(no pump named)');
    expect(clash?.fields.kept[0]).toEqual({ value: { crew: id('B'), from: instant('10:30') }, record: bare.id });
    const both = [claim('1', { crew: 'A', from: '10:00' }), bare];
    expect(wellClaimClashes(both)).toHaveLength(1);
  });

  it('begun at the same time are ordered by id', () => {
    const same = claim('0', { crew: 'B', pump: 'P2', from: '10:00' });
    for (const claims of [
      [a, same],
      [same, a],
    ])
      expect(wellClaimClashes(claims)[0]?.fields).toMatchObject({ subject: a.id, shown: { record: same.id } });
  });

  it.each<[string, readonly WellClaim[]]>([
    ['one crew twice', [a, claim('2', { crew: 'A', pump: 'P2', from: '10:30' })]],
    ['two phones with one pump', [a, claim('2', { crew: 'B', pump: 'P1', from: '10:30' })]],
    ['a relief crew', [a, claim('2', { crew: 'B', pump: 'P2', from: '10:30', after: '1' })]],
    ['one ends as the next begins', [claim('1', { crew: 'A', pump: 'P1', from: '10:00', until: '10:30' }), b]],
    ['an empty claim', [a, claim('2', { crew: 'B', pump: 'P2', from: '10:30', until: '10:30' })]],
    ['two wells', [a, claim('2', { crew: 'B', pump: 'P2', from: '10:30', well: 'MW-4' })]],
    ['a voided claim', [a, { ...b, voided: { reason: 'wrong well', by: null } }]],
  ])('do not clash: %s', (_, claims) => {
    expect(wellClaimClashes(claims)).toEqual([]);
    expect(wellClaimClashes(claims.toReversed())).toEqual([]);
  });

  it('do not clash along a line of hand-overs, also past a voided claim, but beside it they do', () => {
    const second = claim('2', { crew: 'B', pump: 'P2', from: '10:30', after: '1' });
    const third = claim('3', { crew: 'C', pump: 'P3', from: '11:00', after: '2' });
    const beside = claim('4', { crew: 'D', pump: 'P4', from: '11:30', after: '1' });
    expect(wellClaimClashes([third, a, second])).toEqual([]);
    expect(wellClaimClashes([third, a, { ...second, voided: { reason: 'twice', by: null } }])).toEqual([]);
    expect(wellClaimClashes([a, second, third, beside]).map((clash) => clash.key)).toEqual([
      `well-claim ${second.id} ${beside.id}`,
      `well-claim ${third.id} ${beside.id}`,
    ]);
  });

  it('that name each other in a ring are one line and no endless one', () => {
    const one = claim('1', { crew: 'A', pump: 'P1', from: '10:00', after: '2' });
    const other = claim('2', { crew: 'B', pump: 'P2', from: '10:30', after: '1' });
    expect(wellClaimClashes([one, other])).toEqual([]);
  });

  it('of three crews clash pair by pair', () => {
    const c = claim('3', { crew: 'C', pump: 'P3', from: '11:00' });
    expect(wellClaimClashes([c, b, a]).map(({ fields }) => [fields.shown.record, fields.subject])).toEqual([
      [a.id, b.id],
      [a.id, c.id],
      [b.id, c.id],
    ]);
  });
});

describe('the clocks behind two claims', () => {
  const until = claim('1', { crew: 'A', pump: 'P1', from: '10:00', until: '10:31' });

  it('make an overlap possible that is within their uncertainty', () => {
    const unsure = claim('2', { crew: 'B', pump: 'P2', from: '10:30', differenceMs: 0, uncertaintyMs: MINUTE });
    const [clash] = wellClaimClashes([until, unsure]);
    expect(clash?.fields.certainty).toBe('possible');
    expect(clash?.fields.sentence).toMatch(/Their times overlap by no more than their clocks may be off\.$/);
    const sure = claim('2', { crew: 'B', pump: 'P2', from: '10:30', differenceMs: 0, uncertaintyMs: MINUTE - 1 });
    expect(wellClaimClashes([until, sure])[0]?.fields.certainty).toBe('certain');
  });

  it('are one clock within one boot, however its measurements differ: a hand-over by that phone is no overlap', () => {
    const hour = 60 * MINUTE;
    const mine = signOut('1', { crew: 'A', from: '10:00', until: '10:30', boot: 'one', differenceMs: -hour + 180 });
    const yours = signOut('2', { crew: 'B', from: '10:30', boot: 'one', differenceMs: -hour });
    expect(signOutClashes([mine, yours], names)).toEqual([]);
    expect(signOutClashes([yours, { ...mine, rev: 2, client: id('office') }], names)).toEqual([]);
    const other = signOut('2', { crew: 'B', from: '10:30', boot: 'another', differenceMs: -hour });
    expect(signOutClashes([mine, other], names)).toMatchObject([{ fields: { certainty: 'certain' } }]);
  });

  it('count a small known difference as uncertainty', () => {
    const off = claim('2', { crew: 'B', pump: 'P2', from: '10:30', differenceMs: -2 * MINUTE });
    expect(wellClaimClashes([until, off])[0]?.fields.certainty).toBe('possible');
  });

  it('correct a difference of more than ten minutes, and only count one of ten', () => {
    const off = (differenceMs: number) =>
      claim('2', { crew: 'B', pump: 'P2', from: '10:21', until: '10:50', differenceMs });
    expect(wellClaimClashes([until, off(10 * MINUTE)])[0]?.fields.certainty).toBe('possible');
    expect(wellClaimClashes([until, off(10 * MINUTE + 1)])).toEqual([]);
  });

  it('correct a large difference, both ways', () => {
    const lying = { crew: 'B', pump: 'P2', from: '07:35', until: '08:00', differenceMs: 180 * MINUTE };
    expect(wellClaimClashes([a, claim('2', lying)])[0]?.fields.certainty).toBe('certain');
    expect(wellClaimClashes([until, claim('2', lying)])).toEqual([]);
    expect(wellClaimClashes([until, claim('2', { ...lying, from: '10:10', until: '10:20' })])).toEqual([]);
  });

  it('say nothing of times that were written on paper', () => {
    const paper = claim('2', {
      crew: 'B',
      pump: 'P2',
      from: '10:10',
      until: '10:20',
      captured: 'from-paper',
      differenceMs: 180 * MINUTE,
    });
    expect(wellClaimClashes([until, paper])[0]?.fields.certainty).toBe('certain');
  });
});

describe('sign-outs', () => {
  const out = signOut('1', { crew: 'A', from: '08:00' });

  it('of one unit by two crews at the same time clash', () => {
    const later = signOut('2', { crew: 'B', from: '09:00', until: '12:00' });
    const [clash, ...others] = signOutClashes([later, out], names);
    expect(others).toEqual([]);
    expect(clash).toMatchObject({
      key: `sign-out ${out.id} ${later.id}`,
      fields: {
        subjectKind: 'sign-out',
        subject: later.id,
        type: 'sign-out',
        sentence: 'Crew A and Crew B both have P-1 from 2026-05-04T09:00:00-05:00 on.',
        certainty: 'certain',
        shown: { record: out.id, value: { crew: id('A'), from: instant('08:00') } },
        kept: [{ record: later.id, value: { crew: id('B'), from: instant('09:00'), until: instant('12:00') } }],
      },
    });
    expect(conflict.fields.safeParse(clash?.fields).error).toBeUndefined();
  });

  it('that follow each other, of one crew, or of two units do not', () => {
    const back = signOut('1', { crew: 'A', from: '08:00', until: '09:00' });
    expect(signOutClashes([back, signOut('2', { crew: 'B', from: '09:00' })])).toEqual([]);
    expect(signOutClashes([out, signOut('2', { crew: 'A', from: '09:00' })])).toEqual([]);
    expect(signOutClashes([out, signOut('2', { crew: 'B', from: '09:00', unit: 'P-2' })])).toEqual([]);
  });

  describe('of which one was never returned', () => {
    const hours = ['09', '10', '11', '12'];
    const later = hours.map((hour, at) =>
      signOut(`${at + 2}`, { crew: at % 2 === 0 ? 'B' : 'C', from: `${hour}:00`, until: `${hour}:30` }),
    );

    it('clash once, with the next that was returned, in whatever order they come', () => {
      fc.assert(
        fc.property(fc.shuffledSubarray([out, ...later], { minLength: 5 }), (all) => {
          expect(signOutClashes(all, names).map(({ key }) => key)).toEqual([`sign-out ${out.id} ${later[0]?.id}`]);
        }),
      );
    });

    it('clash as well with those before that, which nobody returned either', () => {
      const open = signOut('9', { crew: 'D', from: '08:30' });
      const keys = signOutClashes([out, open, ...later], names).map(({ key }) => key);
      expect(keys).toHaveLength(3);
    });

    it('clash no more where the crew itself returned it later', () => {
      const own = signOut('9', { crew: 'A', from: '08:30', until: '08:40' });
      expect(signOutClashes([out, own, ...later], names)).toEqual([]);
      const taken = { ...own, voided: { reason: 'a slip', by: null } };
      expect(signOutClashes([out, taken, ...later], names)).toHaveLength(1);
    });
  });

  it('handed over without a signal overlap only possibly, where the clocks of the two phones leave it open', () => {
    const given = { crew: 'A', from: '08:00', until: '09:03', differenceMs: 2 * MINUTE } as const;
    const taken = signOut('2', { crew: 'B', from: '09:00', differenceMs: 0, uncertaintyMs: 4 * MINUTE });
    expect(signOutClashes([signOut('1', given), taken])[0]?.fields.certainty).toBe('possible');
    const kept = signOut('1', { ...given, until: '09:30' });
    expect(signOutClashes([kept, taken])[0]?.fields.certainty).toBe('certain');
    const apart = signOut('1', { ...given, until: '09:00' });
    expect(signOutClashes([apart, taken])).toEqual([]);
  });

  it('that another phone ended keep their beginning: its clock says nothing of that', () => {
    const before = signOut('0', { crew: 'B', from: '07:00', until: '07:59' });
    // two hours slow: what it calls 10:00 was 12:00
    const ended = signOut('1', { crew: 'A', from: '08:00', until: '10:00', differenceMs: -120 * MINUTE });
    const byOther: SignOut = { ...ended, rev: 2, clock: ended.clock && { ...ended.clock, wall: instant('10:00') } };
    expect(signOutClashes([before, byOther])).toEqual([]);
    expect(signOutClashes([before, ended])).toHaveLength(1);
  });
});

it('clashes do not depend on the order of the claims, and every clash is between two crews', () => {
  const one = fc.record({
    crew: fc.constantFrom('A', 'B', 'C'),
    pump: fc.constantFrom('P1', 'P2'),
    well: fc.constantFrom('MW-3', 'MW-4'),
    from: fc.constantFrom('10:00', '10:30', '11:00'),
    until: fc.constantFrom('10:30', '11:00', '12:00'),
    differenceMs: fc.constantFrom(0, 11 * MINUTE, -40 * MINUTE),
    uncertaintyMs: fc.constantFrom(0, 30 * MINUTE),
  });
  const claims = fc
    .array(one, { maxLength: 6 })
    .map((all) => all.map((given, index) => claim(String(index), given)))
    .chain((all) => fc.tuple(fc.constant(all), fc.shuffledSubarray(all, { minLength: all.length })));
  fc.assert(
    fc.property(claims, ([all, again]) => {
      const clashes = wellClaimClashes(all);
      expect(wellClaimClashes(again)).toEqual(clashes);
      const crewOf = new Map(all.map((each) => [each.id, each.fields.crew]));
      for (const { fields } of clashes)
        expect(crewOf.get(fields.shown.record ?? '')).not.toBe(crewOf.get(fields.subject));
    }),
  );
});
