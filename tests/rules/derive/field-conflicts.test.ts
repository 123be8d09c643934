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

const PLACE = { feed: 'event:e', parent: 'p', visit: 'v' };

type Change = readonly [string, number, number, Record<string, unknown>];

/** The reading after changes of several phones, each given as client, number, what was seen and what was set. */
function changed(...changes: readonly Change[]): Held {
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

describe('a value that no phone gave', () => {
  it('[M1] is kept without naming a person, a phone or a mutation, and before those that name them', () => {
    const nobody: Held = { state: { ...state, by: null, client: null, mutation: null }, ...PLACE, memory: null };
    const intent = { set: { ph: '7.2' }, seen: null, keepsFormer: true };
    const one = applyIntent(nobody.state, null, { client: 'b', mutation: 1, by: 'b', rev: 2 }, intent);
    const other = applyIntent(
      nobody.state,
      one,
      { client: 'c', mutation: 1, by: 'c', rev: 3 },
      { ...intent, set: { ph: '7.3' } },
    );
    const [conflict] = fieldConflicts(FIRM, { ...nobody, memory: other });
    expect(conflict?.fields.kept).toEqual([{ value: '7.01' }, { value: '7.2', by: 'b', client: 'b', mutation: 1 }]);
  });
});

describe('the sentence of a conflict', () => {
  const of = (held: Held, well: string | null) => fieldConflicts(FIRM, held, well)[0]?.fields.sentence;
  const observed = { at: '2026-05-04T10:05:00-05:00' };
  const seen = (...changes: readonly Change[]): Held => {
    const held = changed(...changes);
    return { ...held, state: { ...held.state, fields: { ...held.state.fields, observed } } };
  };

  it('names the well and says the field in words, with its unit', () => {
    const held = seen(['b', 1, 1, { turbidityNtu: '3.1' }], ['c', 1, 1, { turbidityNtu: '31' }]);
    expect(of(held, 'MW-4S')).toBe(
      'Turbidity (NTU) of the reading of 2026-05-04T10:05:00-05:00 at MW-4S was given twice: 31 is shown, 3.1 is kept.',
    );
    const three = seen(['b', 1, 1, { ph: '7.2' }], ['c', 1, 1, { ph: '7.3' }], ['d', 1, 1, { ph: '7.4' }]);
    expect(of(three, 'MW-4S')).toContain('at MW-4S was given twice: 7.4 is shown, 7.2, 7.3 are kept.');
  });

  it('names a record of no visit by its own name, and cuts a long text', () => {
    const held = changed(['b', 1, 1, { serial: 'a' }], ['c', 1, 1, { serial: 'x'.repeat(500) }]);
    const unit: Held = { ...held, state: { ...held.state, kind: 'unit', fields: { label: 'Pump 1' } } };
    expect(of(unit, null)).toBe(
      `Serial of the unit Pump 1 was given twice: "${'x'.repeat(96)}... is shown, "a" is kept.`,
    );
  });

  it('says who stands against whom where one voided it, and when a person has decided', () => {
    const voided = changed(['b', 1, 1, { [VOIDED]: false }], ['c', 1, 1, { [VOIDED]: true }]);
    expect(of(voided, 'MW-1')).toBe(
      'One person voided the reading at MW-1, another changed it without knowing of that.',
    );
    const open = changed(['b', 1, 1, { ph: '7.2' }], ['c', 1, 1, { ph: '7.3' }]);
    const registers = { ph: open.memory?.registers.ph?.slice(-1) ?? [] };
    const decided: Held = {
      ...open,
      memory: { ...open.memory, registers, resolutions: { ph: 'r1' } } as Held['memory'],
    };
    expect(of(decided, 'MW-1')).toBe('pH of the reading at MW-1 was decided by a person.');
  });
});
