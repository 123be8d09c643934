import { expect, it } from 'vitest';
import type { RecordState } from '../../../src/protocol/record.ts';
import { readingEnds } from '../../../src/rules/equipment/meters/reading-ends.ts';

/** A reading under an id, at a minute of an hour, with the offset that its phone has. */
function reading(id: string, at: string, more: object = {}, voided: unknown = null): RecordState {
  const fields = { purge: 'p-1', meter: 'm-1', observed: { at }, ...more };
  return { kind: 'reading', id, voided, fields } as unknown as RecordState;
}

const ids = (readings: readonly RecordState[]) => readingEnds(readings).map(({ id }) => id);

it('of the readings of a meter in a purge the first and the last are left, in whatever order they came', () => {
  const three = [
    reading('b', '2026-05-04T10:10:00-05:00'),
    reading('c', '2026-05-04T10:15:00-05:00'),
    reading('a', '2026-05-04T10:05:00-05:00'),
  ];
  expect(ids(three)).toEqual(['a', 'c']);
  expect(ids(three.toReversed())).toEqual(['a', 'c']);
});

it('one that stands alone is both', () => {
  expect(ids([reading('a', '2026-05-04T10:05:00-05:00')])).toEqual(['a']);
});

it('the instant decides, not the text of it, and at one instant the id', () => {
  const readings = [
    reading('a', '2026-05-04T10:05:00-05:00'),
    reading('b', '2026-05-04T09:06:00-06:00'),
    reading('c', '2026-05-04T10:06:00-05:00'),
  ];
  expect(ids(readings)).toEqual(['a', 'c']);
  expect(ids([...readings.slice(0, 2), reading('0', '2026-05-04T15:06:00Z')])).toEqual(['a', 'b']);
});

it('each meter and each purge has its own, and what was taken back or names no meter has none', () => {
  const at = '2026-05-04T10:05:00-05:00';
  const readings = [
    reading('a', at),
    reading('b', at, { meter: 'm-2' }),
    reading('c', at, { purge: 'p-2' }),
    reading('d', '2026-05-04T11:05:00-05:00', {}, { by: 'ann' }),
    reading('e', at, { meter: null }),
    reading('f', at, { meter: undefined }),
  ];
  expect(ids(readings).toSorted()).toEqual(['a', 'b', 'c']);
});
