import { describe, expect, it } from 'vitest';
import type { VectorHand } from '../../../src/rules/custody/custody-vector.ts';
import { vectorFacts } from '../../../src/rules/custody/vector-facts.ts';

function permutations<Item>(items: readonly Item[]): readonly (readonly Item[])[] {
  if (items.length < 2) return [items];
  return items.flatMap((first, at) => permutations(items.toSpliced(at, 1)).map((rest) => [first, ...rest]));
}

function told(hands: readonly VectorHand[]) {
  return vectorFacts({ hands }).custody.changes.map(({ relinquished, received }) =>
    [relinquished?.name ?? 'nobody', received?.name ?? 'nobody'].join(' to '),
  );
}

describe('hand-overs of one minute', () => {
  it('are given by nobody to themselves, in whatever order they came', () => {
    const hands: readonly VectorHand[] = [
      ['out', '10:00', 'Ann Poe'],
      ['in', '10:00', 'Ben Roe'],
      ['out', '10:00', 'Ben Roe'],
      ['in', '10:00', 'Cy Loe'],
    ];
    for (const one of permutations(hands)) expect(told(one)).toEqual(['Ann Poe to Ben Roe', 'Ben Roe to Cy Loe']);
  });

  it('go to whom they were given by name, where nothing else tells', () => {
    const hands: readonly VectorHand[] = [
      ['out', '10:00', 'Ann Poe', { to: 'Cy Loe' }],
      ['out', '10:00', 'Ben Roe', { to: 'Dee Voe' }],
      ['in', '10:00', 'Cy Loe'],
      ['in', '10:00', 'Dee Voe'],
    ];
    for (const one of permutations(hands)) {
      expect(told(one).toSorted()).toEqual(['Ann Poe to Cy Loe', 'Ben Roe to Dee Voe']);
    }
  });

  it('are gone on with by who received it, before another is told that came between by its clock', () => {
    expect(
      told([
        ['out', '10:00', 'Ann Poe', { number: 1 }],
        ['in', '10:00', 'Ben Roe', { number: 1 }],
        ['out', '10:02', 'Gus Moe', { number: 2 }],
        ['in', '10:02', 'Hal Noe', { number: 2 }],
        ['out', '10:04', 'Ben Roe', { number: 3 }],
        ['in', '10:04', 'Cy Loe', { number: 3 }],
      ]),
    ).toEqual(['Ann Poe to Ben Roe', 'Ben Roe to Cy Loe', 'Gus Moe to Hal Noe']);
  });
});

it('what was received half a day before it was given is no side of it', () => {
  const hands = (received: string): readonly VectorHand[] => [
    ['in', received, 'Ben Roe'],
    ['out', '19:00', 'Ann Poe'],
  ];
  expect(told(hands('07:00'))).toEqual(['Ann Poe to Ben Roe']);
  expect(told(hands('06:59'))).toEqual(['nobody to Ben Roe', 'Ann Poe to nobody']);
});
