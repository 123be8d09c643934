import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { handInBy, leavesAt } from '../../../src/science/samples/hand-in.ts';
import { receiptOf, shipBy } from '../../../src/science/samples/ship-by.ts';
import { given, why } from './given.ts';
import { instantOfWall, wallClock } from './intl-oracle.ts';

const zone = 'America/Denver';
const weekdays = (opensAt: string, closesAt: string) => ({
  timeZone: zone,
  hours: [1, 2, 3, 4, 5].map((weekday) => ({ weekday, opensAt, closesAt })),
  closedOn: [],
  alsoOpen: [],
});
const counter = weekdays('08:00', '18:00');
const laboratory = { ...weekdays('09:00', '17:00'), timeZone: 'America/New_York' };
const at = (clock: string) => new Date(instantOfWall(`${clock}:00`, zone)).toISOString();
const wall = (instant: string) => wallClock(Date.parse(instant), zone).slice(0, 16);

describe('a counter that takes coolers at its hours', () => {
  // 2 May 2026 is a Saturday.
  it('on Saturday it is too late: Friday 18:00; what is packed on Friday evening leaves on Monday', () => {
    expect(wall(given(handInBy(at('2026-05-02T10:00'), counter)))).toBe('2026-05-01T18:00');
    expect(wall(given(leavesAt(at('2026-05-01T19:00'), counter)))).toBe('2026-05-04T08:00');
    expect(wall(given(leavesAt(at('2026-05-01T12:00'), counter)))).toBe('2026-05-01T12:00');
  });

  it('handed in by then, in time at a laboratory two zones away; at the next opening after, too late', () => {
    const dues = fc.integer({ min: Date.parse('2026-01-20') / 60_000, max: Date.parse('2026-12-01') / 60_000 });
    fc.assert(
      fc.property(dues, fc.nat(2_880), (dueMin, transitMinutes) => {
        const dueAt = new Date(dueMin * 60_000).toISOString();
        const { leaveBy } = given(shipBy({ dueAt, transitMinutes, backlogMinutes: 0 }, laboratory));
        const last = given(handInBy(leaveBy, counter));
        const received = (leaves: string) =>
          Date.parse(given(receiptOf(leaves, transitMinutes, laboratory)).receivedAt);
        expect(received(last)).toBeLessThanOrEqual(dueMin * 60_000);
        const next = given(leavesAt(new Date(Date.parse(leaveBy) + 60_000).toISOString(), counter));
        expect(received(next)).toBeGreaterThan(dueMin * 60_000);
      }),
      { numRuns: 100 },
    );
  });

  it('refuses a counter without hours and an instant without offset', () => {
    expect(why(handInBy(at('2026-05-02T10:00'), { ...counter, hours: [] }))).toContain('closed for 60 days');
    expect(why(leavesAt('2026-05-02T10:00', counter))).toContain('no offset');
    expect(why(leavesAt(at('2026-05-02T10:00'), { ...counter, timeZone: 'Nowhere' }))).toContain('IANA');
  });
});
