import { describe, expect, it } from 'vitest';
import { fieldConflictId, fieldConflicts } from '../../../src/rules/derive/field-conflicts.ts';
import type { Held } from '../../../src/rules/held.ts';
import { applyIntent } from '../../../src/rules/merge/apply-intent.ts';
import { VOIDED } from '../../../src/rules/merge/merge-memory.ts';
import { FIRM } from '../merge/merge-world.ts';

const state: Held['state'] = {
  kind: 'reading',
  id: 'r',
  rev: 1,
  voided: null,
  by: 'ann',
  client: 'one',
  mutation: 1,
  reason: null,
  clock: null,
  fields: { ph: '7.01' },
};

/** The reading after changes of several phones, each given as client, number, what was seen and what was set. */
function changed(...changes: readonly (readonly [string, number, number, Record<string, unknown>])[]): Held {
  let held: Held = { state, feed: 'event:e', parent: 'p', visit: 'v', memory: null };
  for (const [client, mutation, seen, set] of changes) {
    const rev = held.state.rev + 1;
    const intent = { seen: { rev: seen }, set, keepsFormer: true };
    const memory = applyIntent(held.state, held.memory, { client, mutation, by: client, rev }, intent);
    held = { ...held, memory, state: { ...held.state, rev, fields: { ...held.state.fields, ...set } } };
  }
  return held;
}

describe('conflicts of fields', () => {
  it('[M1] are one a field, with the value shown and those kept in an order of their own', () => {
    const held = changed(['c', 1, 1, { ph: '7.3' }], ['b', 1, 1, { ph: '7.2' }], ['d', 1, 1, { ph: '7.4' }]);
    const [conflict, ...others] = fieldConflicts(FIRM, held);
    expect(others).toEqual([]);
    expect(conflict).toMatchObject({
      id: fieldConflictId(FIRM, 'r', 'ph'),
      feed: 'event:e',
      parent: 'r',
      visit: 'v',
      fields: { type: 'field', field: 'ph', standing: 'open', shown: { value: '7.4', client: 'd' } },
    });
    expect(conflict?.fields.kept).toEqual([
      { value: '7.2', by: 'b', client: 'b', mutation: 1 },
      { value: '7.3', by: 'c', client: 'c', mutation: 1 },
    ]);
  });

  it('[M1] are none where the same value was given twice, or the last writer had seen the others', () => {
    expect(fieldConflicts(FIRM, changed(['b', 1, 1, { ph: '7.2' }], ['c', 1, 1, { ph: '7.2' }]))).toEqual([]);
    expect(fieldConflicts(FIRM, changed(['b', 1, 1, { ph: '7.2' }], ['c', 1, 2, { ph: '7.3' }]))).toEqual([]);
  });

  it('[M4] keep a value that is shown no more until somebody sees it: who saw only the last shown supersedes only that', () => {
    const held = changed(['b', 1, 1, { ph: '7.2' }], ['c', 1, 1, { ph: '7.3' }], ['d', 1, 3, { ph: '7.5' }]);
    const [conflict] = fieldConflicts(FIRM, held);
    expect(conflict?.fields).toMatchObject({ shown: { value: '7.5' }, kept: [{ value: '7.2' }] });
  });

  it('[M5] name a void as such, without a field', () => {
    const held = changed(['b', 1, 1, { [VOIDED]: false }], ['c', 1, 1, { [VOIDED]: true }]);
    const [conflict] = fieldConflicts(FIRM, held);
    expect(conflict?.fields).toMatchObject({ type: 'void', shown: { value: true }, kept: [{ value: false }] });
    expect(conflict?.fields).not.toHaveProperty('field');
  });

  it('[M4] a clear to nothing is a value like any other', () => {
    const held = changed(['b', 1, 1, { ph: null }], ['c', 1, 1, { ph: '7.3' }]);
    expect(fieldConflicts(FIRM, held)[0]?.fields).toMatchObject({ shown: { value: '7.3' }, kept: [{ value: null }] });
  });
});
