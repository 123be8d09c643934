import { describe, expect, it } from 'vitest';
import { criteriaSets } from '../../src/catalog/criteria-sets.ts';
import type { RecordState } from '../../src/protocol/record.ts';
import { readable, wasReadable } from '../../src/rules/readable.ts';

const ID = '0190f2a0-0000-7000-8000-000000000001';
const AT = '2026-05-04T10:05:00-05:00';

function stateOf(kind: string, fields: Readonly<Record<string, unknown>>): RecordState {
  return { kind, id: ID, rev: 1, voided: null, by: null, client: ID, mutation: 1, reason: null, clock: null, fields };
}

const observed = { at: AT, entered: AT, captured: 'at-the-well', readBy: ID, writtenBy: ID };
const reading = { purge: ID, observed, ph: '7.01', turbidityNtu: '3' };
const event = { site: ID, name: 'Spring', starts: '2026-05-04', ends: '2026-05-08', standing: 'open' };
const criteria = criteriaSets[0]?.id;

describe('a record as the rules may look at it', () => {
  it('is the record itself where all of it can be read, and found once', () => {
    const state = stateOf('reading', reading);
    expect(readable(state)).toBe(state);
    expect(readable(state)).toBe(state);
    const unheard = stateOf('unheard-of', { a: 1 });
    expect(readable(unheard)).toBe(unheard);
    const more = stateOf('reading', { ...reading, clarity: { of: [1] } });
    expect(readable(more)).toBe(more);
  });

  it.each<[string, Readonly<Record<string, unknown>>]>([
    ['a number', { orpMv: 7 }],
    ['a word', { orpMv: 'seven' }],
    ['a list', { overRange: [1], remark: [] }],
    ['an object', { meter: { serial: 'a' } }],
  ])('[V9] is without a field whose kept value is %s where the field is of another form by now', (_, kept) => {
    const state = stateOf('reading', { ...reading, clarity: 1, ...kept });
    const { overRange, ...rest } = readable(state).fields;
    expect(rest).toEqual({ ...reading, clarity: 1 });
    expect(overRange ?? []).toEqual([]);
    expect(readable(state)).toBe(readable(state));
    expect(state.fields).toMatchObject(kept);
  });

  it('[V9] is without the option of a plan, and with the plan', () => {
    const stabilization = { graceS: 'long', count: 'pairs', drawdown: { limitFt: 3, steady: 'required' }, also: 1 };
    const state = stateOf('event', { ...event, plan: { criteria, stabilization, weather: {} } });
    const read = { criteria, stabilization: { drawdown: { steady: 'required' }, also: 1 }, weather: {} };
    expect(readable(state).fields).toEqual({ ...event, plan: read });
  });

  it('[V9] keeps what no record can be without', () => {
    const state = stateOf('event', { ...event, starts: 7, plan: { criteria: 7 } });
    expect(readable(state).fields).toMatchObject({ starts: 7 });
    expect(readable(stateOf('reading', {})).fields).toEqual({});
  });

  it('tells of a value that a field had once whether it could be read today', () => {
    const state = stateOf('reading', reading);
    const said = ['7.1', 7, null, { a: 1 }].map((value) => wasReadable(state, 'ph', value));
    expect(said).toEqual([true, false, true, false]);
    expect([wasReadable(state, 'clarity', {}), wasReadable(stateOf('unheard-of', {}), 'ph', 7)]).toEqual([true, true]);
    expect(wasReadable(stateOf('event', event), 'plan', { criteria, more: 1 })).toBe(true);
  });
});
