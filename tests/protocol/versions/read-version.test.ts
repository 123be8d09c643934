import { describe, expect, it } from 'vitest';
import { criteriaSets } from '../../../src/catalog/criteria-sets.ts';
import type { Lens } from '../../../src/protocol/lenses/lens.ts';
import { lift } from '../../../src/protocol/lenses/lift.ts';
import { isUnreadable, type ReadMutation, readMutation, type Unreadable } from '../../../src/protocol/read-mutation.ts';
import { SCHEMA_VERSION, VERSIONS } from '../../../src/protocol/version.ts';

const ID = '0190f2a0-0000-7000-8000-000000000001';
const NEWER = SCHEMA_VERSION + 1;

function lineOf(set: unknown, more: Readonly<Record<string, unknown>> = {}): string {
  return JSON.stringify({ mutationId: 1, verb: 'record', kind: 'unit', id: ID, set, ...more });
}

const unit = { type: 'bladder-pump', label: 'P-1', ownership: 'owned', use: 'shared' };
const event = { site: ID, name: 'Spring', starts: '2026-05-04', ends: '2026-05-08', standing: 'open' };

function asRead(read: ReadMutation | Unreadable): ReadMutation {
  if (isUnreadable(read)) throw new Error(read.detail);
  return read;
}

function asFault(read: ReadMutation | Unreadable): Unreadable {
  if (!isUnreadable(read)) throw new Error(`it was read: ${JSON.stringify(read.fields)}`);
  return read;
}

describe('what a newer version wrote', () => {
  const newer = (set: unknown, more = {}) => readMutation(lineOf(set, more), NEWER);

  it('[V3] keeps up to a hundred unknown fields; more wait for a newer server, unread', () => {
    const many = (count: number) => Object.fromEntries(Array.from({ length: count }, (_, at) => [`field${at}`, at]));
    expect(Object.keys(asRead(newer({ ...unit, ...many(100) })).fields)).toHaveLength(104);
    for (const count of [101, 4_000]) {
      expect(asFault(newer({ ...unit, ...many(count) })).code).toBe('newer_server_needed');
    }
  });

  it('[V3] keeps fields that are not known here, also inside of what is known', () => {
    const beyond = { colour: 'green', parts: [{ serial: 'a', made: { year: 2031 } }], gone: null };
    expect(asRead(newer({ ...unit, ...beyond })).fields).toEqual({ ...unit, ...beyond });
    const plan = {
      criteria: criteriaSets[0]?.id,
      later: [1, 2],
      stabilization: { graceS: 20, drawdown: { limitFt: '0.3', ofWhat: 'all' }, weather: { wind: true } },
    };
    expect(asRead(newer({ ...event, plan }, { kind: 'event' })).fields).toEqual({ ...event, plan });
    expect(asFault(readMutation(lineOf({ ...event, plan }, { kind: 'event' }), SCHEMA_VERSION)).code).toBe(
      'unreadable_record',
    );
  });

  it('[V3] reads what is known as strictly as ever, and takes what it cannot read for something newer', () => {
    const faults: [Unreadable, string][] = [
      [asFault(newer({ ...unit, type: 'unheard-of' })), '/set/type'],
      [asFault(newer({ ...unit, colour: 1, maximumDepthFt: 7.1 })), '/set/maximumDepthFt'],
      [asFault(newer({ type: 'bladder-pump', colour: 1 })), '/set/label'],
      [asFault(newer(unit, { verb: 'borrow' })), '/verb'],
      [asFault(newer(unit, { kind: 'drone' })), '/kind'],
      [asFault(newer(unit, { urgent: true })), '/urgent'],
      [asFault(newer(unit, { base: { rev: 1, and: 2 } })), '/base/and'],
      [asFault(newer({ well: ID, why: 'x' }, { verb: 'rehome', kind: 'visit' })), '/set/why'],
      [asFault(newer({ ...unit, 'a b': 1 })), '/set/a b'],
      [asFault(newer({ ...unit, constructor: 1 })), '/set/constructor'],
      [asFault(newer({ ...unit, colour: 'a\0b' })), '/set/colour'],
      [asFault(newer({ ...unit, colour: { 'half \ud800': 1 } })), '/set/colour'],
    ];
    for (const [{ code, pointer, detail }, where] of faults) {
      expect([code, pointer]).toEqual(['newer_server_needed', where]);
      expect(detail).toContain(`version ${NEWER}`);
    }
  });

  it('[V3] keeps no number that would come back otherwise', () => {
    const line = (number: string) => lineOf({ ...unit, colour: 'NUMBER' }).replace('"NUMBER"', `{"of":[${number}]}`);
    for (const number of ['7', '-2.5', '0', '123456789012345', '0.000001', '1e+21']) {
      expect(asRead(readMutation(line(number), NEWER)).fields.colour, number).toEqual({ of: [Number(number)] });
    }
    for (const number of ['7.10', '1e2', '9007199254740993', '-0', '1e309', '1E21']) {
      expect(asFault(readMutation(line(number), NEWER)).code, number).toBe('newer_server_needed');
    }
  });

  it('[V3] finds typing errors of its own and of older versions', () => {
    for (const version of [undefined, SCHEMA_VERSION, SCHEMA_VERSION - 1]) {
      const { code, pointer } = asFault(readMutation(lineOf({ ...unit, labell: 'P' }), version));
      expect([code, pointer]).toEqual(['unreadable_record', '/set/labell']);
    }
  });

  it('[V3] answers what is no JSON as ever', () => {
    expect(asFault(readMutation('{"mutationId":1', NEWER)).code).toBe('unreadable_json');
    expect(asFault(readMutation('{"set":{"a":1,"a":2}}', NEWER)).code).toBe('unreadable_record');
    expect(asFault(readMutation('{"set":{"__proto__":{}}}', NEWER)).code).toBe('unreadable_record');
    expect(asFault(readMutation('[1]', NEWER)).code).toBe('newer_server_needed');
  });
});

const STEPS: readonly Lens[] = [
  {
    from: 2,
    lift: (given) => {
      const { called, ...set } = given.set as Record<string, unknown>;
      return { ...given, set: called === undefined ? set : { ...set, label: called } };
    },
  },
  { from: 1, lift: (given) => (given.kind === 'pump' ? { ...given, kind: 'unit' } : given) },
];

describe('what an older version wrote', () => {
  const { label, ...rest } = unit;
  const old = lineOf({ ...rest, called: label }, { kind: 'pump' });
  const versions = { own: 3, minimum: 1, lenses: STEPS };

  it('[V5] is lifted through every step from its own version on, and then read strictly', () => {
    expect(asRead(readMutation(old, 1, versions))).toMatchObject({ kind: { name: 'unit' }, fields: unit });
    expect(asFault(readMutation(old, 2, versions)).code).toBe('unknown_kind');
    expect(asFault(readMutation(old, 3, versions)).code).toBe('unknown_kind');
    const second = lineOf({ ...rest, called: label });
    expect(asRead(readMutation(second, 2, versions)).fields).toEqual(unit);
    expect(asFault(readMutation(second, 3, versions)).pointer).toBe('/set/label');
    expect(asFault(readMutation(lineOf({ ...rest, caled: label }), 1, versions)).pointer).toBe('/set/label');
    expect(asFault(readMutation('[]', 1, versions)).code).toBe('unreadable_record');
  });

  it('[V5] goes through no step that is not between the two versions', () => {
    const noted = (from: number): Lens => ({ from, lift: (given) => ({ ...given, steps: `${given.steps}${from}` }) });
    const lenses = [3, 1, 4, 2].map(noted);
    expect(lift({ steps: '' }, 1, 4, lenses)).toEqual({ steps: '123' });
    expect(lift({ steps: '' }, 2, 3, lenses)).toEqual({ steps: '2' });
    expect(lift({ steps: '' }, 4, 4, lenses)).toEqual({ steps: '' });
  });

  it('[V5] says `neither` by its reason where a conflict is decided, and nothing else is touched by that', () => {
    const decide = (more: object) =>
      JSON.stringify({ mutationId: 1, verb: 'resolve', kind: 'conflict', id: ID, ...more });
    const set = { value: '7.07' };
    const fieldsOf = (more: object, version = 2) => asRead(readMutation(decide(more), version)).fields;
    expect(fieldsOf({ set, reason: 'read again' })).toEqual({ ...set, neither: true });
    expect(fieldsOf({ set, reason: 'read again' }, 1)).toEqual({ ...set, neither: true });
    expect(fieldsOf({ set, reason: 'read again' }, 3)).toEqual(set);
    expect(fieldsOf({ set })).toEqual(set);
    expect(fieldsOf({ reason: 'both pumped' })).toEqual({});
    const amend = lineOf({ label: 'P-2' }, { verb: 'amend', base: { rev: 1 }, reason: 'painted' });
    expect(asRead(readMutation(amend, 2)).fields).toEqual({ label: 'P-2' });
    for (const odd of [decide({ set: [1], reason: 'x' }), decide({ set: { value: 1 }, reason: 7 })]) {
      expect(asFault(readMutation(odd, 2))).toEqual(asFault(readMutation(odd, 3)));
    }
  });

  it('[V7] is not read where it is older than the oldest that is taken', () => {
    const { code, detail } = asFault(readMutation(old, 1, { ...versions, minimum: 2 }));
    expect(code).toBe('version_too_old');
    expect(detail).toContain('version 2 is the oldest');
    expect(asRead(readMutation(old, 1, { ...versions, minimum: 1 })).fields).toEqual(unit);
  });

  it('needs no lens of the product that leads nowhere', () => {
    const { own, minimum, lenses } = VERSIONS;
    const steps = lenses.map(({ from }) => from);
    expect(new Set(steps).size).toBe(steps.length);
    expect(steps.every((from) => from >= minimum && from < own)).toBe(true);
  });
});
