import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { custodyFindings } from '../../../src/rules/custody/custody-findings.ts';
import type { VectorHand } from '../../../src/rules/custody/custody-vector.ts';
import { vectorFacts } from '../../../src/rules/custody/vector-facts.ts';

const clock = (minutes: number) =>
  `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;

function told(hands: readonly VectorHand[]) {
  return vectorFacts({ hands }).custody.changes.map(({ relinquished, received }) => [
    relinquished && `${relinquished.name} ${relinquished.at.slice(11, 16)}`,
    received && `${received.name} ${received.at.slice(11, 16)}`,
  ]);
}

describe('both sides of a change of custody', () => {
  it('are paired by the number that both have, whatever the times say', () => {
    const hands: VectorHand[] = [
      ['out', '10:00', 'Ann', { number: 1 }],
      ['in', '15:00', 'Cy', { number: 2 }],
      ['out', '14:00', 'Ben', { number: 2 }],
      ['in', '14:01', 'Ben', { number: 1 }],
    ];
    expect(told(hands)).toEqual([
      ['Ann 10:00', 'Ben 14:01'],
      ['Ben 14:00', 'Cy 15:00'],
    ]);
  });

  it('are paired by time where no number is told, what was received after it was given before what was received earlier', () => {
    expect(
      told([
        ['out', '10:00', 'Ann'],
        ['in', '10:02', 'Ben'],
        ['out', '15:00', 'Ben'],
        ['in', '14:55', 'Cy'],
      ]),
    ).toEqual([
      ['Ann 10:00', 'Ben 10:02'],
      ['Ben 15:00', 'Cy 14:55'],
    ]);
    // somebody received it before whom nobody relinquished it: the carrier's leg keeps its own receipt
    expect(
      told([
        ['out', '10:00', 'Ann'],
        ['in', '10:01', 'Ben'],
        ['in', '15:02', 'Dee'],
        ['out', '17:00', 'Dee'],
        ['in', '23:00', 'Cy'],
      ]),
    ).toEqual([
      ['Ann 10:00', 'Ben 10:01'],
      [null, 'Dee 15:02'],
      ['Dee 17:00', 'Cy 23:00'],
    ]);
  });

  const EQUAL: readonly VectorHand[] = [
    ['in', '10:00', 'Cy Loe'],
    ['in', '10:00', 'Ben Roe'],
    ['out', '10:00', 'Ben Roe'],
    ['out', '10:00', 'Ann Poe'],
  ];

  it('go from hand to hand where their times are equal, or no farther apart than clocks may be', () => {
    for (const hands of [
      EQUAL,
      EQUAL.toReversed(),
      EQUAL.toSorted(([a, , one], [b, , other]) => (one === 'Ann Poe' ? -1 : other === 'Ann Poe' ? 1 : a < b ? -1 : 1)),
      EQUAL.map(([side, , name]): VectorHand => [side, '10:00', name, {}]),
    ]) {
      expect(told(hands)).toEqual([
        ['Ann Poe 10:00', 'Ben Roe 10:00'],
        ['Ben Roe 10:00', 'Cy Loe 10:00'],
      ]);
    }
    const behind: VectorHand[] = [
      ['out', '10:05', 'Ann Poe', { number: 1 }],
      ['in', '10:06', 'Ben Roe', { number: 1 }],
      ['out', '09:58', 'Ben Roe', { number: 2 }],
      ['in', '10:10', 'Cy Loe', { number: 2 }],
    ];
    expect(told(behind)).toEqual([
      ['Ann Poe 10:05', 'Ben Roe 10:06'],
      ['Ben Roe 09:58', 'Cy Loe 10:10'],
    ]);
    expect(vectorFacts({ hands: behind }).custody.gaps).toEqual([]);
    const hands = behind.map((one): VectorHand => (one[1] === '09:58' ? ['out', '09:30', one[2], one[3] ?? {}] : one));
    expect(told(hands)[0]).toEqual(['Ben Roe 09:30', 'Cy Loe 10:10']);
  });

  it('let no time of who had it run back', () => {
    const holders = (hands: readonly VectorHand[], packed = '09:00') =>
      vectorFacts({ cooler: { packed }, hands }).custody.stretches.map(({ holder, from, until }) =>
        [holder, from?.slice(11, 16), until?.slice(11, 16)].join(' '),
      );
    expect(holders(EQUAL)).toEqual(['Ann Poe 09:00 10:00', 'Ben Roe 10:00 10:00', 'Cy Loe 10:00 ']);
    const late: VectorHand[] = [
      ['out', '10:00', 'Ann Poe', { number: 1 }],
      ['in', '12:00', 'Ben Roe', { number: 1 }],
      ['out', '11:00', 'Ben Roe', { number: 2 }],
      ['in', '11:05', 'Cy Loe', { number: 2 }],
    ];
    expect(holders(late)).toEqual(['Ann Poe 09:00 10:00', ' 10:00 12:00', 'Ben Roe 12:00 12:00', 'Cy Loe 12:00 ']);
    expect(holders(late, '10:30')[0]).toBe('Ann Poe 10:00 10:00');
    const early: VectorHand[] = [
      ['out', '10:05', 'Ann Poe'],
      ['in', '10:00', 'Ben Roe'],
    ];
    expect(holders(early)).toEqual(['Ann Poe 09:00 10:05', 'Ben Roe 10:05 ']);
  });

  it('are the same in whatever order they are given, each used once, and a true course has no gap', () => {
    const steps = fc.array(fc.integer({ min: 1, max: 90 }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(steps, fc.infiniteStream(fc.double({ min: 0, max: 1, noNaN: true })), (waits, chance) => {
        let at = 6 * 60;
        const people = ['Ann A', 'Ben B', 'Cy C', 'Dee D', 'Eve E', 'Flo F', 'Gus G', 'Hal H', 'Ida I'];
        const hands = waits.flatMap((wait, step): VectorHand[] => {
          at += wait + 16;
          const given: VectorHand = ['out', clock(at), people[step] ?? ''];
          return [given, ['in', clock(at + (wait % 15)), people[step + 1] ?? '']];
        });
        const mixed = hands
          .map((hand) => ({ hand, place: chance.next().value as number }))
          .toSorted((a, b) => a.place - b.place)
          .map(({ hand }) => hand);
        expect(told(mixed)).toEqual(told(hands));
        expect(told(hands).flat()).not.toContain(null);
        expect(vectorFacts({ hands: mixed }).custody.gaps).toEqual([]);
        const codes = custodyFindings(vectorFacts({ hands: mixed })).map(({ rule }) => rule.code);
        expect(codes).toEqual([]);
      }),
    );
  });
});
