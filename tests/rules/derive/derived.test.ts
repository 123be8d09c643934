import { describe, expect, it } from 'vitest';
import { compareDerived, type Derived } from '../../../src/rules/derive/derived.ts';
import type { Held } from '../../../src/rules/held.ts';

const place = { feed: 'event:e', parent: 'p', visit: 'v' };

function wanted(id: string, fields: Derived['fields'], feed = place.feed): Derived {
  return { kind: 'flag', id, fields, ...place, feed };
}

function stored(id: string, fields: Derived['fields'], rev = 1): Held {
  const nobody = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
  return { state: { kind: 'flag', id, rev, ...nobody, fields }, ...place, memory: null };
}

describe('what has to be written for derived records', () => {
  it('[D2] is nothing where the content is the same, whatever the order of its fields', () => {
    expect(compareDerived([stored('a', { x: 1, y: [2] })], [wanted('a', { y: [2], x: 1 })])).toEqual({
      put: [],
      withdrawn: [],
    });
  });

  it('[D2] is the next revision where the content differs, and the feed that is left where that differs', () => {
    const { put } = compareDerived(
      [stored('a', { x: 1 }, 4), stored('b', { x: 1 }, 2)],
      [wanted('a', { x: 2 }), wanted('b', { x: 1 }, 'event:f')],
    );
    expect(put.map(({ held, leaves }) => [held.state.id, held.state.rev, held.feed, leaves])).toEqual([
      ['a', 5, 'event:e', null],
      ['b', 3, 'event:f', 'event:e'],
    ]);
  });

  it('[D1] takes away what nothing gives rise to any more, and adds what is new', () => {
    const { put, withdrawn } = compareDerived([stored('a', {})], [wanted('b', {})]);
    expect(put.map(({ held }) => [held.state.id, held.state.rev])).toEqual([['b', 1]]);
    expect(withdrawn.map((held) => held.state.id)).toEqual(['a']);
  });
});
