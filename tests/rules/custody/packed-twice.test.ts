import { describe, expect, it } from 'vitest';
import { type ConflictRecord, packedTwice } from '../../../src/rules/custody/packed-twice.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const NAMES = new Map([
  [idOf('ann'), 'Ann Poe'],
  [idOf('ben'), 'Ben Roe'],
]);

/** The claims of a bottle that Ben put in the second cooler, which is shown, and Ann somewhere else. */
function found(cooler: string, more: object = {}) {
  const of = new SamplesWorld()
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1' })
    .add('cooler', 'c-2', { event: 'event-1', number: 'C2' })
    .add('cooler', 'c-3', { event: 'event-1', number: 'C3' })
    .bottle('V-1', 'volatiles', { cooler: 'c-2' })
    .samples();
  const fields = {
    ...{ subject: idOf('V-1'), subjectKind: 'container', field: 'cooler', standing: 'open' },
    shown: { value: idOf('c-2'), by: idOf('ben') },
    kept: [{ value: idOf('c-1'), by: idOf('ann') }],
    ...more,
  };
  const conflict = { kind: 'conflict', id: idOf('conflict'), rev: 1, voided: null, fields };
  return packedTwice(idOf(cooler), [conflict as unknown as ConflictRecord], of, NAMES);
}

describe('a bottle that two people packed in two coolers', () => {
  const both = {
    ...{ container: idOf('V-1'), label: 'V-1' },
    claims: [
      { cooler: 'C2', by: 'Ben Roe' },
      { cooler: 'C1', by: 'Ann Poe' },
    ],
  };

  it('is told of both coolers, that which is shown first, and of no third', () => {
    expect(found('c-1')).toEqual([both]);
    expect(found('c-2')).toEqual([both]);
    expect(found('c-3')).toEqual([]);
  });

  it('is told where one of them took it out, and nobody is known by name', () => {
    expect(found('c-2', { kept: [{ value: null, by: idOf('cy') }] })[0]?.claims[1]).toEqual({ cooler: null, by: null });
  });

  it.each([
    ['decided', { standing: 'decided' }],
    ['about what else is said of a bottle', { field: 'splitWith' }],
    ['about another kind of record', { subjectKind: 'sample' }],
  ])('is none that is %s', (_what, more) => expect(found('c-1', more)).toEqual([]));
});
