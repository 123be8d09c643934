import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  isBlind,
  isForMatrixSpike,
  type ToldOf,
  type ToldWorld,
  toldMatrix,
  toldNumber,
  toldPlace,
  toldTime,
} from '../../../src/rules/samples/told-to-laboratory.ts';

const nobody = { rev: 1, voided: null, by: null, client: null, mutation: null, reason: null, clock: null };

function record(kind: string, id: string, fields: Readonly<Record<string, unknown>>): ToldOf {
  return { ...nobody, kind, id, fields } as unknown as ToldOf;
}

interface Taken {
  readonly id: string;
  readonly collected: string;
  readonly cooler?: string;
  readonly more?: Readonly<Record<string, unknown>>;
}

function sample({ id, collected, more = {} }: Taken): ToldOf {
  return record('sample', id, { visit: `visit of ${id}`, number: `N-${id}`, suites: ['VOC'], collected, ...more });
}

function world(taken: readonly Taken[], planned: readonly ToldOf[] = [], blanks: readonly ToldOf[] = []): ToldWorld {
  const visits = taken.map(({ id }) => ({ id: `visit of ${id}`, fields: { well: `well of ${id}` } }));
  return {
    event: record('event', 'event', {}),
    site: null,
    samples: taken.map(sample),
    blanks,
    plannedSamples: planned,
    visits,
    wells: taken.map(({ id }) => ({ id: `well of ${id}`, fields: { name: `MW-${id}` } })),
    containers: taken.map(({ id, cooler }) => ({ id: `bottle of ${id}`, fields: { sample: id, cooler } })),
  } as unknown as ToldWorld;
}

const blind = { type: 'blind-duplicate', of: 'a' } as const;
const told = (of: Taken, among: readonly Taken[]) => toldTime(sample(of), world(among));

describe('what a laboratory is told of a sample', () => {
  it('is the number given for it, else that of the plan, else its own', () => {
    const plan = record('planned-sample', 'plan', { number: 'P-1', type: 'normal', laboratoryNumber: 'L-1' });
    const bare = record('planned-sample', 'bare', { number: 'P-2', type: 'normal' });
    const known = world([], [plan, bare]);
    const of = (more: object) =>
      toldNumber(sample({ id: 's', collected: '2026-05-04T10:00:00Z', more: { ...more } }), known);
    expect(of({ planned: 'plan', laboratoryNumber: 'L-9' })).toBe('L-9');
    expect(of({ planned: 'plan' })).toBe('L-1');
    expect(of({ planned: 'bare' })).toBe('N-s');
    expect(of({})).toBe('N-s');
    expect([toldNumber(plan, known), toldNumber(bare, known)]).toEqual(['L-1', 'P-2']);
  });

  it('is the time given for it, else that of the plan, else when it was collected', () => {
    const plan = record('planned-sample', 'plan', { type: 'normal', laboratoryTime: '2026-05-04T09:00:00Z' });
    const known = world([], [plan]);
    const of = (more: object) =>
      toldTime(sample({ id: 's', collected: '2026-05-04T10:00:00Z', more: { ...more } }), known);
    expect(of({ planned: 'plan', laboratoryTime: '2026-05-04T08:00:00Z' })).toBe('2026-05-04T08:00:00Z');
    expect(of({ planned: 'plan' })).toBe('2026-05-04T09:00:00Z');
    expect(of({})).toBe('2026-05-04T10:00:00Z');
    expect(toldTime(record('planned-sample', 'x', { type: 'normal' }), known)).toBeNull();
    expect(toldTime(record('blank', 'b', { type: 'trip', collected: '2026-05-03T16:00:00Z' }), known)).toBe(
      '2026-05-03T16:00:00Z',
    );
  });

  it('is a time before the first of its cooler for a blind duplicate without one, and none before it is packed', () => {
    const a = { id: 'a', collected: '2026-05-04T10:05:00-04:00', cooler: 'c' };
    const b = { id: 'b', collected: '2026-05-04T11:35:00-04:00', cooler: 'c' };
    const d = { id: 'd', collected: '2026-05-04T11:40:00-04:00', cooler: 'c', more: blind };
    const time = told(d, [a, b, d]) ?? '';
    expect(time).toMatch(/^2026-05-04T(?:09|10):[0-5][05]:00-04:00$/);
    expect(Date.parse(time)).toBeLessThan(Date.parse(a.collected));
    expect(told({ ...d, cooler: undefined as never }, [a, b, { ...d, cooler: undefined as never }])).toBeNull();
    expect(told(a, [a, b, d])).toBe(a.collected);
  });

  it('counts the days of a crew at the site, whatever the offset that a phone writes', () => {
    const a = { id: 'a', collected: '2026-05-04T08:00:00-05:00', cooler: 'c' };
    const d = { id: 'd', collected: '2026-05-05T00:35:00Z', cooler: 'alone', more: blind };
    const site = { id: 'site', fields: { timeZone: 'America/Chicago' } } as unknown as ToldWorld['site'];
    const time = toldTime(sample(d), { ...world([a, d]), site }) ?? '';
    expect(Date.parse(time)).toBeLessThan(Date.parse(a.collected));
  });

  it('is that of the planned sample of which it has only the number, or most of the bottles', () => {
    const a = { id: 'a', collected: '2026-05-04T10:05:00Z', cooler: 'c' };
    const d = { id: 'd', collected: '2026-05-04T10:40:00Z', cooler: 'c' };
    const plan = (id: string, number: string, type: string) =>
      record('planned-sample', id, { number, type, well: 'well of d', laboratoryNumber: `L-${number}` });
    const of = (number: string, bottles: readonly string[]) => {
      const known = world([a, d], [plan('p', number, 'blind-duplicate'), plan('n', 'P-8', 'normal')]);
      const labelled = bottles.map((planned, at) => ({ id: `b-${at}`, fields: { sample: 'd', cooler: 'c', planned } }));
      const its = { ...known, containers: [...known.containers, ...labelled] } as unknown as ToldWorld;
      const isEarlier = Date.parse(toldTime(sample(d), its) ?? '') < Date.parse(a.collected);
      return [isBlind(sample(d), its), toldNumber(sample(d), its), isEarlier, toldPlace(sample(a), its)];
    };
    expect(of('N-d', [])).toEqual([true, 'L-N-d', true, 'N-a']);
    expect(of('P-9', ['p'])).toEqual([true, 'L-P-9', true, 'N-a']);
    expect(of('P-9', [])).toEqual([false, 'N-d', false, 'N-a']);
    // one out of the bag of the duplicate, whichever comes first
    for (const bottles of [
      ['n', 'n', 'p'],
      ['p', 'n', 'n'],
    ])
      expect(of('P-9', bottles)).toEqual([false, 'L-P-8', false, 'N-a']);
    expect(of('N-d', ['n', 'p'])[0]).toBe(true);
  });

  it('says of a blind duplicate a time that no parent changes, that never is late, and is written as the others are', () => {
    const minute = fc.integer({ min: 0, max: 40 });
    fc.assert(
      fc.property(minute, minute, minute, fc.constantFrom(1, 5, 10, 15), (first, parent, own, grid) => {
        const at = (steps: number) =>
          new Date(Date.UTC(2026, 4, 4, 12) + steps * grid * 60_000).toISOString().replace('.000Z', 'Z');
        const e = { id: 'e', collected: at(0), cooler: 'c' };
        const a = { id: 'a', collected: at(1 + first), cooler: 'c' };
        const d = { id: 'd', collected: at(1 + own), cooler: 'c', more: blind };
        const time = told(d, [e, a, d]) ?? '';
        expect(Date.parse(time)).toBeLessThan(Date.parse(d.collected));
        expect(time).toMatch(/^2026-05-04T\d\d:\d\d:00Z$/);
        // another parent at another time, and the blind one itself a second later
        const other = { ...a, collected: at(1 + parent) };
        const later = { ...d, collected: d.collected.replace(':00Z', ':01Z'), more: { ...blind, of: 'e' } };
        expect(told(later, [e, other, later])).toBe(told(d, [e, other, d]));
      }),
    );
  });

  it('names no well where the event has a blind duplicate, and a well where it has none', () => {
    const a = { id: 'a', collected: '2026-05-04T10:05:00Z' };
    const d = { id: 'd', collected: '2026-05-04T10:10:00Z', more: blind };
    expect(toldPlace(sample(a), world([a]))).toBe('MW-a');
    expect(toldPlace(sample(a), world([a, d]))).toBe('N-a');
    expect(toldPlace(sample(d), world([a, d]))).toBe('N-d');
    const plan = record('planned-sample', 'p', { number: 'P', type: 'blind-duplicate', suites: [] });
    expect(toldPlace(sample(a), world([a], [plan]))).toBe('N-a');
  });

  it('says which blank it is, and what is to be spiked', () => {
    const trip = record('blank', 'b', { type: 'trip', number: 'TB-1', collected: '2026-05-04T07:00:00Z' });
    expect([toldPlace(trip, world([])), toldMatrix(trip)]).toEqual(['trip blank', 'blank water']);
    const spiked = sample({ id: 's', collected: '2026-05-04T07:00:00Z', more: { type: 'matrix-spike' } });
    expect([isForMatrixSpike(spiked, world([])), toldMatrix(spiked)]).toEqual([true, 'groundwater']);
    expect(isForMatrixSpike(trip, world([]))).toBe(false);
    expect(isBlind(trip, world([]))).toBe(false);
  });
});
