import { describe, expect, it } from 'vitest';
import type { ReadingRecord } from '../../../src/rules/assessment/assessment-input.ts';
import { type Placed, placeInTime } from '../../../src/rules/assessment/timeline.ts';
import { assess, at, call, idOf, level, occurrence, reading, STEADY } from './purge-fixture.ts';

const MINUTE = 60_000;

/** What a phone says of its clocks when it captures something so many minutes after it was switched on. */
function clock(minutes: number, sequence: number, differenceMs = 0, boot = 'boot 1') {
  const wall = at('10:00');
  return { wall, monotonicMs: minutes * MINUTE, boot, sequence, differenceMs, uncertaintyMs: 30 };
}

describe('within one device and boot', () => {
  it('[A5] orders by the sequence and spaces by the monotonic clock, whatever the wall clock showed', () => {
    const made = [
      reading({ time: '10:00', id: idOf('a'), clock: clock(0, 1) }, STEADY),
      reading({ time: '10:05', id: idOf('b'), clock: clock(5, 2) }, STEADY),
      reading({ time: '09:11', id: idOf('c'), clock: clock(10, 3) }, STEADY),
    ];
    const placed = placeInTime(made.toReversed());
    expect(placed.map(({ record }) => record.id)).toEqual([idOf('a'), idOf('b'), idOf('c')]);
    expect(gaps(placed)).toEqual([5 * MINUTE, 5 * MINUTE]);
    expect(assess({ readings: made }).stable).toBe(true);
  });

  it('[A5] does not believe a monotonic clock that ran backwards against the sequence', () => {
    const made = [
      reading({ time: '10:00', id: idOf('a'), clock: clock(5, 1) }, STEADY),
      reading({ time: '10:05', id: idOf('b'), clock: clock(0, 2) }, STEADY),
    ];
    expect(placeInTime(made).map(({ record }) => record.id)).toEqual([idOf('a'), idOf('b')]);
  });

  it('[A5] compares two boots by their wall clocks: monotonic times of two boots have nothing in common', () => {
    const made = [
      reading({ time: '10:00', id: idOf('a'), clock: clock(900, 1) }, STEADY),
      reading({ time: '10:05', id: idOf('b'), clock: clock(2, 2, 0, 'boot 2') }, STEADY),
      reading({ time: '10:10', id: idOf('c'), clock: clock(7, 3, 0, 'boot 2') }, STEADY),
    ];
    expect(gaps(placeInTime(made))).toEqual([5 * MINUTE, 5 * MINUTE]);
  });

  it('[A5] is not moved by one time that a person set back', () => {
    const times = ['10:00', '10:05', '08:10', '10:15'];
    const phone = times.map((time, index) =>
      reading({ time, id: idOf(`p${index}`), clock: clock(index * 5, index) }, STEADY),
    );
    const other = reading({ time: '10:07', id: idOf('other'), client: idOf('other phone') }, STEADY);
    expect(placeInTime([...phone, other]).map(({ record }) => record.id)).toEqual(
      ['p0', 'p1', 'other', 'p2', 'p3'].map(idOf),
    );
  });
});

function gaps(placed: readonly Placed<ReadingRecord>[]): number[] {
  return placed.slice(1).map(({ atMs }, index) => atMs - (placed[index]?.atMs ?? 0));
}

describe('between devices', () => {
  /** A phone whose clock is wrong by so many minutes, which the server noticed. */
  const wrongBy = (minutes: number) =>
    [0, 5, 10].map((minute, index) => {
      const shown = new Date(Date.UTC(2026, 4, 4, 15, minute + minutes)).toISOString().slice(0, 19);
      return reading(
        { time: `${shown}Z`, id: idOf(`wrong ${index}`), clock: clock(minute, index, -minutes * MINUTE) },
        STEADY,
      );
    });
  const right = reading({ time: '10:07', id: idOf('right'), client: idOf('right phone') }, STEADY);
  const names = (records: readonly ReadingRecord[]) => placeInTime(records).map(({ record }) => record.id);
  const expected = ['wrong 0', 'wrong 1', 'right', 'wrong 2'].map(idOf);

  it.each([0, 11, 47, -47, 600])(
    '[A5] corrects a clock that is %s min off when it stands beside another device',
    (minutes) => {
      expect(names([...wrongBy(minutes), right])).toEqual(expected);
    },
  );

  it('[A5] believes a clock that is at most ten minutes off', () => {
    expect(names([...wrongBy(-10), right])).toEqual(['wrong 0', 'wrong 1', 'wrong 2', 'right'].map(idOf));
    expect(names([...wrongBy(10), right])).toEqual(['right', 'wrong 0', 'wrong 1', 'wrong 2'].map(idOf));
  });

  it('[A5] leaves alone what a person typed later: its time is not of the clock of the device', () => {
    const typed = wrongBy(47).map(({ fields, ...rest }) => ({
      ...rest,
      fields: { ...fields, observed: { ...fields.observed, captured: 'from-paper' as const } },
    }));
    expect(names([...typed, right])[0]).toBe(idOf('right'));
  });

  it('[A5] keeps the time as it was entered where it is shown', () => {
    expect(assess({ readings: wrongBy(47) }).firstHeldAt).toBe('2026-05-04T15:57:00Z');
  });
});

describe('at one and the same moment', () => {
  it('[A5] puts a level and an interruption before the reading, and a call after it; then the smaller id', () => {
    const time = '10:05';
    const records = [
      call({ time }, 'stable'),
      reading({ time, id: 'b' }, STEADY),
      occurrence({ time }, 'cell-cleaned'),
      reading({ time, id: 'a' }, STEADY),
      level({ time }, 'pumping', '22.31'),
    ];
    const kinds = placeInTime(records).map(({ record }) =>
      `${record.kind} ${record.id.length === 1 ? record.id : ''}`.trim(),
    );
    expect(kinds).toEqual(['water-level', 'occurrence', 'reading a', 'reading b', 'call']);
  });
});
