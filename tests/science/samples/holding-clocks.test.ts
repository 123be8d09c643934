import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { HOLDING_CLOCKS, holdingClocks, type SampleTimes } from '../../../src/science/samples/holding-clocks.ts';
import { tightestFirst } from '../../../src/science/samples/tightest-first.ts';
import { given, why } from './given.ts';

const DAY = 1_440;
const COLLECTED = '2026-05-04T10:00:00-05:00';
/** SVOC: 7 days to extraction, 40 from there to analysis. */
const TWO = [
  { clock: 'collection-to-extraction', minutes: 7 * DAY },
  { clock: 'extraction-to-analysis', minutes: 40 * DAY },
] as const;

function daysOn(days: number, from = COLLECTED): string {
  return new Date(Date.parse(from) + days * 86_400_000).toISOString();
}

function states(times: SampleTimes) {
  return given(holdingClocks(TWO, times)).map(({ state }) => state);
}

describe('two clocks', () => {
  it('SVOC extracted on day 6.9 and analysed 39 days after: both in time', () => {
    const extractedAt = daysOn(6.9);
    expect(states({ collectedAt: COLLECTED, extractedAt, analysedAt: daysOn(39, extractedAt) })).toEqual([
      'in-time',
      'in-time',
    ]);
  });

  it('extracted on day 7.1: late, and the second clock is judged by itself', () => {
    const extractedAt = daysOn(7.1);
    expect(states({ collectedAt: COLLECTED, extractedAt, analysedAt: daysOn(39, extractedAt) })).toEqual([
      'late',
      'in-time',
    ]);
    expect(states({ collectedAt: COLLECTED, extractedAt: daysOn(6), analysedAt: daysOn(46.1) })).toEqual([
      'in-time',
      'late',
    ]);
  });

  it('exactly at the limit is in time, a second later is not', () => {
    expect(states({ collectedAt: COLLECTED, extractedAt: daysOn(7) })).toEqual(['in-time', 'running']);
    expect(states({ collectedAt: COLLECTED, extractedAt: daysOn(7 + 1 / 86_400) })).toEqual(['late', 'running']);
  });

  it('the second has no date before the extraction', () => {
    const [first, second] = given(holdingClocks(TWO, { collectedAt: COLLECTED }));
    expect(first).toMatchObject({ state: 'running', dueAt: '2026-05-11T15:00:00Z', spareMinutes: null });
    expect(second).toMatchObject({ state: 'not-started', dueAt: null, startedAt: null });
  });

  it('steps in the wrong order are told, not judged', () => {
    expect(states({ collectedAt: COLLECTED, extractedAt: daysOn(-1) })).toEqual(['before-start', 'running']);
  });

  it('refuses an instant without offset', () => {
    expect(why(holdingClocks(TWO, { collectedAt: '2026-05-04T10:00' }))).toContain('no offset');
    expect(why(holdingClocks(TWO, { collectedAt: COLLECTED, extractedAt: '2026-05-05' }))).toContain('no offset');
  });

  it('what is left and the limit make the time it took, for every clock', () => {
    const STEPS = {
      filtration: 'filteredAt',
      preservation: 'preservedAt',
      extraction: 'extractedAt',
      analysis: 'analysedAt',
    };
    fc.assert(
      fc.property(fc.constantFrom(...HOLDING_CLOCKS), fc.nat(100_000), fc.nat(100_000), (clock, minutes, took) => {
        const [from, to] = clock.split('-to-');
        const start = from === 'collection' ? 'collectedAt' : 'extractedAt';
        const end = STEPS[to as keyof typeof STEPS];
        const [one] = given(holdingClocks([{ clock, minutes }], { [start]: COLLECTED, [end]: daysOn(took / DAY) }));
        expect(one?.spareMinutes).toBeCloseTo(minutes - took, 3);
        if (took !== minutes) expect(one?.state).toBe(took < minutes ? 'in-time' : 'late');
      }),
    );
  });
});

describe('the tightest first', () => {
  it('by instant and not by text, what has no date last', () => {
    const due = [null, '2026-05-11T15:00:00Z', '2026-05-11T09:30:00-05:00', '2026-05-12T00:00:00Z'].map((dueAt) => ({
      dueAt,
    }));
    expect(tightestFirst(due).map(({ dueAt }) => dueAt)).toEqual([
      '2026-05-11T09:30:00-05:00',
      '2026-05-11T15:00:00Z',
      '2026-05-12T00:00:00Z',
      null,
    ]);
  });

  it('keeps all, and the order of what is due together', () => {
    fc.assert(
      fc.property(fc.array(fc.option(fc.nat(3))), (hours) => {
        const due = hours.map((hour, id) => ({ id, dueAt: hour === null ? null : `2026-05-11T0${hour}:00:00Z` }));
        const sorted = tightestFirst(due);
        expect(sorted.map(({ id }) => id).toSorted((a, b) => a - b)).toEqual(due.map(({ id }) => id));
        for (const [at, one] of sorted.slice(1).entries()) {
          const before = sorted[at];
          const [a, b] = [before?.dueAt ?? '9', one.dueAt ?? '9'];
          expect(a < b || (a === b && (before?.id ?? -1) < one.id)).toBe(true);
        }
      }),
    );
  });
});
