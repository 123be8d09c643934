import { describe, expect, it } from 'vitest';
import { compareMoments, doubtBetween, isSurelyBefore, momentOf } from '../../../src/rules/equipment/moment.ts';
import { at } from './equipment-day.ts';

const MINUTE = 60_000;

function record(id: string, clock: { wall?: string; differenceMin?: number; uncertaintyMin?: number } = {}, rev = 1) {
  const { wall = at('10:00'), differenceMin = 0, uncertaintyMin = 0 } = clock;
  const stamped = {
    wall,
    monotonicMs: 0,
    boot: 'b',
    sequence: 1,
    differenceMs: differenceMin * MINUTE,
    uncertaintyMs: uncertaintyMin * MINUTE,
  };
  return { id, kind: 'visit', rev, client: `phone of ${id}`, clock: stamped };
}

const minutes = (moment: { ms: number }) => (moment.ms - Date.parse(at('10:00'))) / MINUTE;
const seen = (captured: 'at-the-well' | 'same-day' | 'from-paper') => ({ at: at('10:00'), captured });

describe('a moment', () => {
  it('is to the minute, as sheets are', () => {
    expect(momentOf(record('a'), '2026-05-04T10:00:59-05:00').ms).toBe(Date.parse(at('10:00')));
    expect(momentOf(record('a'), '2026-05-04T15:00:00.250Z').ms).toBe(Date.parse(at('10:00')));
  });

  it('is corrected by a clock that is off by more than ten minutes; less is doubt', () => {
    const far = momentOf(record('a', { differenceMin: 30, uncertaintyMin: 1 }), at('10:00'), seen('at-the-well'));
    expect([minutes(far), far.doubtMs / MINUTE]).toEqual([30, 1]);
    const near = momentOf(record('a', { differenceMin: -4, uncertaintyMin: 1 }), at('10:00'), seen('at-the-well'));
    expect([minutes(near), near.doubtMs / MINUTE]).toEqual([0, 5]);
  });

  it('stands as entered where it was not taken from the clock', () => {
    const off = { differenceMin: 30 };
    expect(minutes(momentOf(record('a', off), at('10:00'), seen('from-paper')))).toBe(0);
    expect(minutes(momentOf(record('a', { ...off, wall: at('18:00') }), at('10:00'), seen('same-day')))).toBe(0);
    expect(minutes(momentOf(record('a', { ...off, wall: at('18:00') }), at('10:00')))).toBe(0);
    expect(minutes(momentOf(record('a', { ...off, wall: at('18:00') }, 2), at('10:00'), seen('at-the-well')))).toBe(0);
    expect(minutes(momentOf(record('a', { ...off, wall: at('10:10') }, 2), at('10:00')))).toBe(30);
    expect(minutes(momentOf({ ...record('a'), clock: null }, at('10:00')))).toBe(0);
  });

  it('is in doubt against other devices, never against its own', () => {
    const a = momentOf(record('a', { uncertaintyMin: 3 }), at('10:00'));
    const b = momentOf(record('b', { uncertaintyMin: 2 }), at('10:05'));
    expect(doubtBetween(a, b)).toBe(5 * MINUTE);
    expect(isSurelyBefore(a, b)).toBe(false);
    expect(isSurelyBefore(a, momentOf(record('b', { uncertaintyMin: 2 }), at('10:06')))).toBe(true);
    expect(doubtBetween(a, { ...b, client: a.client })).toBe(0);
    expect(doubtBetween({ ...a, client: null }, { ...b, client: null })).toBe(5 * MINUTE);
  });

  it('is put in order by time and then by record', () => {
    const [a, b] = [momentOf(record('a'), at('10:00')), momentOf(record('b'), at('10:00'))];
    expect([compareMoments(a, b), compareMoments(b, a), compareMoments(a, a)]).toEqual([-1, 1, 0]);
    expect(compareMoments(b, momentOf(record('a'), at('10:01')))).toBeLessThan(0);
  });
});
