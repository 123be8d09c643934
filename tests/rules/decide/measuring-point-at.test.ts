import { describe, expect, it } from 'vitest';
import { measuringPointAt } from '../../../src/rules/decide/measuring-point-at.ts';
import type { Held } from '../../../src/rules/held.ts';

function point(id: string, validFrom: string, change: string, voided = false): Held {
  const state = {
    kind: 'measuring-point',
    id,
    rev: 1,
    voided: voided ? { reason: 'entered twice', by: null } : null,
    by: null,
    client: 'c',
    mutation: 1,
    reason: null,
    clock: null,
    fields: { validFrom, change },
  };
  return { state, feed: 'site:s', parent: 'w', visit: null, memory: null };
}

const first = point('a', '2020-01-01T00:00:00Z', 'first');
const corrected = point('b', '2021-01-01T00:00:00Z', 'error-corrected');
const correctedAgain = point('c', '2021-06-01T00:00:00Z', 'error-corrected');
const raised = point('d', '2022-01-01T00:00:00Z', 'casing-changed');
const idAt = (points: readonly Held[], at: string) =>
  measuringPointAt(
    points.map(({ state }) => state),
    at,
  )?.id;

describe('the measuring point of a level', () => {
  it('[M10] applies a corrected error back to the start of the point before it, and a changed casing forward only', () => {
    const points = [raised, corrected, first];
    expect(idAt(points, '2020-06-01T00:00:00Z')).toBe('b');
    expect(idAt(points, '2021-12-31T00:00:00Z')).toBe('b');
    expect(idAt(points, '2022-01-01T00:00:00Z')).toBe('d');
  });

  it('[M10] applies a correction of a correction back to where the first one began', () => {
    expect(idAt([first, corrected, correctedAgain], '2020-06-01T00:00:00Z')).toBe('c');
  });

  it('[M10] leaves voided points out and knows of none before the first', () => {
    expect(
      idAt(
        [first, { ...corrected, state: { ...corrected.state, voided: { reason: 'x', by: null } } }],
        '2020-06-01T00:00:00Z',
      ),
    ).toBe('a');
    expect(idAt([first, raised], '2019-01-01T00:00:00Z')).toBeUndefined();
  });

  it('goes by the id between two that are valid from one moment, whichever came first', () => {
    const twin = point('z', '2020-01-01T00:00:00Z', 'first');
    for (const points of [
      [first, twin],
      [twin, first],
    ]) {
      expect(idAt(points, '2020-06-01T00:00:00Z')).toBe('z');
    }
  });
});
