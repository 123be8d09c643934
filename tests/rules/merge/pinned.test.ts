import { describe, expect, it } from 'vitest';
import type { Derived } from '../../../src/rules/derive/derived.ts';
import { fieldConflicts } from '../../../src/rules/derive/field-conflicts.ts';
import { supersededValues } from '../../../src/rules/merge/merge-memory.ts';
import { FIRM, FIRST_FIELDS, observedAt, PURGE, READINGS, VISIT } from './merge-world.ts';
import { SimulatedServer, sent } from './simulated-server.ts';

const [READING, , NEW] = READINGS;

/** Phone 9 recorded a visit with a purge and a reading, and everybody has seen them. */
function server(): SimulatedServer {
  const made = new SimulatedServer();
  const first = (mutationId: number, kind: string, id: string, more: object = {}) =>
    made.take(sent(9, { mutationId, verb: 'record', kind, id, set: { ...FIRST_FIELDS[kind], ...more } }));
  first(1, 'visit', VISIT);
  first(2, 'purge', PURGE);
  first(3, 'reading', READING, { observed: observedAt(5) });
  return made;
}

type Step = readonly [phone: number, mutation: number, verb: string, id: string, base: object, set?: object];

const KINDS = new Map([
  [VISIT, 'visit'],
  [PURGE, 'purge'],
]);

function play(...steps: readonly Step[]): SimulatedServer {
  const made = server();
  for (const [phone, mutationId, verb, id, base, set] of steps) {
    const kind = KINDS.get(id) ?? 'reading';
    made.take(sent(phone, { mutationId, verb, kind, id, ...base, ...(set ? { set } : {}), reason: 'misread' }));
  }
  return made;
}

function conflictsOf(made: SimulatedServer, id: string): readonly Derived[] {
  const held = made.held(id);
  return held ? fieldConflicts(FIRM, held) : [];
}

const seen = (rev: number) => ({ base: { rev } });
const afterOwn = (n: number) => ({ base: { after: n } });

describe('merges that once went wrong, as a search for counterexamples found them', () => {
  it('[M4] filling in a field that was left out has no rival, whatever the writer had in view', () => {
    const made = play([0, 1, 'amend', VISIT, {}, { outcome: 'sampled' }]);
    expect(conflictsOf(made, VISIT)).toEqual([]);
    expect(made.held(VISIT)?.state.fields.outcome).toBe('sampled');
  });

  it('[M4] the same id recorded twice, once with a field left out, has the same values in both orders', () => {
    const record = (phone: number, set: object) =>
      sent(phone, { mutationId: 1, verb: 'record', kind: 'reading', id: NEW, set });
    const fields = { purge: PURGE, observed: observedAt(10) };
    const [one, other] = [record(1, { ...fields, ph: '7.01' }), record(2, fields)];
    for (const order of [
      [one, other],
      [other, one],
    ]) {
      const made = server();
      for (const mutation of order) made.take(mutation);
      expect(made.held(NEW)?.state.fields.ph).toBe('7.01');
      expect(conflictsOf(made, NEW)).toEqual([]);
    }
  });

  it('[M4] who says in values what it had seen supersedes those values, and no others', () => {
    const was = (value: string) => ({ base: { was: { ph: value } } });
    const others: readonly Step[] = [[0, 1, 'amend', READING, seen(1), { ph: '7.05' }]];
    const knowing = play(...others, [1, 1, 'amend', READING, was('7.05'), { ph: '7.09' }]);
    expect(conflictsOf(knowing, READING)).toEqual([]);
    const unknowing = play(...others, [1, 1, 'amend', READING, was('7.01'), { ph: '7.09' }]);
    expect(conflictsOf(unknowing, READING)).toMatchObject([{ fields: { kept: [{ value: '7.05' }] } }]);
  });

  it('[M7] who says in values what it had seen had not seen that a person chose that value', () => {
    const made = play(
      [0, 1, 'amend', READING, seen(1), { ph: '7.05' }],
      [1, 1, 'amend', READING, seen(1), { ph: '7.09' }],
    );
    const decide = (phone: number, mutationId: number, value: string) => {
      made.derive();
      const { id, rev } = made.conflictOf(READING).state;
      made.take(sent(phone, { mutationId, verb: 'resolve', kind: 'conflict', id, base: { rev }, set: { value } }));
      expect(conflictsOf(made, READING)).toMatchObject([{ fields: { standing: 'resolved', shown: { value } } }]);
    };
    const amend = (phone: number, mutationId: number, base: object, ph: string) =>
      made.take(
        sent(phone, { mutationId, verb: 'amend', kind: 'reading', id: READING, base, set: { ph }, reason: 'a' }),
      );
    decide(7, 1, '7.05');
    amend(2, 1, { was: { ph: '7.05' } }, '7.09');
    const open = { standing: 'open', shown: { value: '7.09' }, kept: [{ value: '7.05' }] };
    expect(conflictsOf(made, READING)).toMatchObject([{ fields: open }]);
    // what was chosen is replaced by its own author, and by who pulled it
    decide(7, 2, '7.05');
    amend(7, 3, { was: { ph: '7.05' } }, '7.06');
    expect(made.held(READING)?.state.fields.ph).toBe('7.06');
    amend(2, 2, { rev: made.rev(READING) }, '7.07');
    expect(conflictsOf(made, READING)).toMatchObject([{ fields: { standing: 'resolved', shown: { value: '7.07' } } }]);
    // and a value that was given since is not the one that was chosen, for all that it is the same
    amend(3, 1, { rev: made.rev(READING) }, '7.05');
    amend(4, 1, { was: { ph: '7.05' } }, '7.08');
    expect(conflictsOf(made, READING)).toMatchObject([{ fields: { standing: 'resolved', shown: { value: '7.08' } } }]);
  });

  it('[M4] a change that was set aside and comes late does not undo what its author did after it', () => {
    const made = play(
      [1, 2, 'amend', READING, seen(1), { ph: '7.09', remark: 'read again' }],
      [1, 1, 'amend', READING, seen(1), { ph: '7.05', turbidityNtu: '3.0' }],
    );
    expect(made.held(READING)?.state.fields).toMatchObject({ ph: '7.09', turbidityNtu: '3.0', remark: 'read again' });
    expect(conflictsOf(made, READING)).toEqual([]);
  });

  it('[M5] an edit of two fields speaks once against a void', () => {
    const edit: Step = [0, 1, 'amend', PURGE, seen(1), { remark: 'a', ended: '2026-05-04T11:00:00-05:00' }];
    const gone: Step = [1, 1, 'void', PURGE, seen(1)];
    for (const order of [
      [edit, gone],
      [gone, edit],
    ]) {
      const [conflict] = conflictsOf(play(...order), PURGE);
      expect(conflict?.fields).toMatchObject({ type: 'void', standing: 'open' });
      expect(conflict?.fields.kept).toHaveLength(1);
    }
  });

  it('[M5] who saw a void and edits does not count the record again, even when somebody else voids it once more', () => {
    const made = play(
      [0, 1, 'void', READING, seen(1)],
      [1, 1, 'void', READING, seen(2)],
      [0, 2, 'amend', READING, afterOwn(1), { remark: 'wrong well' }],
    );
    expect(made.held(READING)?.state.voided).not.toBeNull();
    expect(conflictsOf(made, READING)).toEqual([]);
  });

  it('[M5] who voids again what was counted by one who had not heard of the void, voids it', () => {
    const made = play(
      [0, 1, 'void', READING, seen(1)],
      [1, 1, 'amend', READING, seen(1), { remark: 'fine' }],
      [0, 2, 'void', READING, seen(3)],
    );
    expect(made.held(READING)?.state.voided).not.toBeNull();
    expect(conflictsOf(made, READING)).toEqual([]);
  });

  it('[M6] a correction keeps every value that it or an earlier one superseded, also those of its own author', () => {
    const made = play(
      [1, 1, 'amend', READING, seen(1), { ph: '7.05' }],
      [1, 2, 'amend', READING, afterOwn(1), { ph: '7.06' }],
      [0, 1, 'amend', READING, seen(3), { ph: '7.08' }],
    );
    const memory = made.held(READING)?.memory;
    expect(memory && supersededValues(memory).get('ph')).toEqual(['7.01', '7.05', '7.06']);
  });

  it('[M6] a value that one phone took back while another gives it still is not among the superseded', () => {
    const back: readonly Step[] = [
      [1, 1, 'amend', READING, seen(1), { ph: '15.0' }],
      [1, 2, 'amend', READING, afterOwn(1), { ph: '7.05' }],
    ];
    const still: Step = [0, 1, 'amend', READING, seen(1), { ph: '15.0' }];
    for (const order of [
      [...back, still],
      [still, ...back],
    ]) {
      const memory = play(...order).held(READING)?.memory;
      expect(memory && supersededValues(memory).get('ph')).toEqual(['7.01']);
    }
  });
});
