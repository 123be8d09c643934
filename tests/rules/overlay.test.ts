import { describe, expect, it } from 'vitest';
import type { Held } from '../../src/rules/held.ts';
import { Overlay } from '../../src/rules/overlay.ts';

function held(id: string, rev: number, place: Partial<Held> = {}): Held {
  const nobody = { by: null, client: null, mutation: null, reason: null, clock: null };
  const state = { kind: 'reading', id, rev, voided: null, ...nobody, fields: {} };
  return { state, feed: 'event:e', parent: 'p', visit: 'v', memory: null, ...place };
}

const ids = (records: readonly Held[]) => records.map(({ state }) => state.id);

describe('the records of a group', () => {
  it('[W6] are what was decided, not what is loaded from the database afterwards', () => {
    const world = new Overlay();
    world.load(held('a', 1));
    expect(world.get('a')?.state.rev).toBe(1);
    world.put(held('a', 2));
    world.load(held('a', 1));
    expect(world.get('a')?.state.rev).toBe(2);
    expect(world.under('p').map(({ state }) => state.rev)).toEqual([2]);
  });

  it('[W6] are found where they live now, and nowhere else', () => {
    const world = new Overlay();
    world.put(held('a', 1));
    world.put(held('b', 1));
    world.put(held('a', 2, { parent: 'q', visit: null }));
    expect([ids(world.under('p')), ids(world.under('q')), ids(world.ofVisit('v'))]).toEqual([['b'], ['a'], ['b']]);
    expect(ids(world.ofKind('reading'))).toEqual(['b', 'a']);
    expect(world.under('nowhere')).toEqual([]);
  });

  it('[W6] are gone once dropped, also where they never were', () => {
    const world = new Overlay();
    world.put(held('a', 1));
    world.drop('a');
    world.drop('b');
    expect(world.get('a')).toBeUndefined();
    expect([world.under('p'), world.ofVisit('v'), world.ofKind('reading')]).toEqual([[], [], []]);
  });
});
