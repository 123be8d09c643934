import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ReceivingCalendar } from '../../../src/science/samples/receiving-calendar.ts';
import { receiptOf, shipBy } from '../../../src/science/samples/ship-by.ts';
import { given, why } from './given.ts';
import { instantOfWall, isoWeekday, wallClock } from './intl-oracle.ts';

const weekdays: ReceivingCalendar = {
  timeZone: 'America/Chicago',
  hours: [1, 2, 3, 4, 5].map((weekday) => ({ weekday, opensAt: '09:00', closesAt: '17:00' })),
  closedOn: [],
  alsoOpen: [],
};
const wall = (instant: string) => wallClock(Date.parse(instant), weekdays.timeZone).slice(0, 16);
const at = (clock: string) => new Date(instantOfWall(`${clock}:00`, weekdays.timeZone)).toISOString();

describe('when a shipment is received', () => {
  // 1 May 2026 is a Friday.
  it('nitrate of Friday 15:30 that misses closing: Monday 09:00, 65.5 h later, above 48', () => {
    const { receivedAt } = given(receiptOf(at('2026-05-01T15:30'), 120, weekdays));
    expect(wall(receivedAt)).toBe('2026-05-04T09:00');
    expect((Date.parse(receivedAt) - Date.parse(at('2026-05-01T15:30'))) / 3_600_000).toBe(65.5);
  });

  it('driven at once, it is there before closing', () => {
    expect(wall(given(receiptOf(at('2026-05-01T15:30'), 60, weekdays)).receivedAt)).toBe('2026-05-01T16:30');
  });

  it('over the night of the change it is 64.5 h in spring and 66.5 in autumn', () => {
    for (const [friday, hours] of [
      ['2025-03-07', 64.5],
      ['2025-10-31', 66.5],
    ] as const) {
      const { receivedAt } = given(receiptOf(at(`${friday}T15:30`), 120, weekdays));
      expect((Date.parse(receivedAt) - Date.parse(at(`${friday}T15:30`))) / 3_600_000).toBe(hours);
    }
  });

  it('not on a holiday, but on a Saturday that was booked', () => {
    const holiday = { ...weekdays, closedOn: ['2026-05-25'] };
    expect(wall(given(receiptOf(at('2026-05-22T18:00'), 0, holiday)).receivedAt)).toBe('2026-05-26T09:00');
    const booked = { ...weekdays, alsoOpen: [{ date: '2026-05-02', opensAt: '08:00', closesAt: '12:00' }] };
    expect(wall(given(receiptOf(at('2026-05-01T17:30'), 0, booked)).receivedAt)).toBe('2026-05-02T08:00');
  });
});

describe('ship by', () => {
  it('nitrate of Friday 15:30, due Sunday 15:30: received by Friday 17:00, so 3 h away leave by 14:00', () => {
    const due = at('2026-05-03T15:30');
    expect(given(shipBy({ dueAt: due, transitMinutes: 180, backlogMinutes: 0 }, weekdays))).toEqual({
      receivedBy: new Date(at('2026-05-01T17:00')).toISOString().replace('.000', ''),
      leaveBy: new Date(at('2026-05-01T14:00')).toISOString().replace('.000', ''),
    });
  });

  it('within opening hours, the backlog counts', () => {
    const answer = given(shipBy({ dueAt: at('2026-05-06T13:00'), transitMinutes: 60, backlogMinutes: 120 }, weekdays));
    expect([wall(answer.receivedBy), wall(answer.leaveBy)]).toEqual(['2026-05-06T11:00', '2026-05-06T10:00']);
  });

  it('and no later: what leaves then is received in time, a minute later is not', () => {
    const zones = fc.constantFrom('America/Chicago', 'America/New_York', 'Pacific/Honolulu');
    const dues = fc.integer({ min: Date.parse('2025-01-10') / 60_000, max: Date.parse('2026-12-20') / 60_000 });
    fc.assert(
      fc.property(dues, fc.nat(3_000), fc.nat(600), zones, (dueMin, transitMinutes, backlogMinutes, timeZone) => {
        const calendar = {
          ...weekdays,
          timeZone,
          closedOn: ['2025-11-27', '2026-05-25'],
          alsoOpen: [{ date: '2026-03-07', opensAt: '22:00', closesAt: '24:00' }],
        };
        const shipment = { dueAt: new Date(dueMin * 60_000).toISOString(), transitMinutes, backlogMinutes };
        const { leaveBy } = given(shipBy(shipment, calendar));
        const received = (leaves: number) =>
          Date.parse(given(receiptOf(new Date(leaves).toISOString(), transitMinutes, calendar)).receivedAt);
        const last = (dueMin - backlogMinutes) * 60_000;
        expect(received(Date.parse(leaveBy))).toBeLessThanOrEqual(last);
        expect(received(Date.parse(leaveBy) + 60_000)).toBeGreaterThan(last);
      }),
      { numRuns: 200 },
    );
  });

  it('agrees with going through the minutes by the tables of the platform', () => {
    const zone = weekdays.timeZone;
    const isOpen = (ms: number) => {
      const clock = wallClock(ms, zone);
      return isoWeekday(clock.slice(0, 10)) <= 5 && clock.slice(11) >= '09:00:00' && clock.slice(11) <= '17:00:00';
    };
    const starts = fc.integer({ min: Date.parse('2025-03-06') / 900_000, max: Date.parse('2025-03-13') / 900_000 });
    fc.assert(
      fc.property(starts, (quarter) => {
        let ms = quarter * 900_000;
        const answer = given(receiptOf(new Date(ms).toISOString(), 0, weekdays)).receivedAt;
        while (!isOpen(ms)) ms += 900_000;
        expect(Date.parse(answer)).toBe(ms);
      }),
      { numRuns: 60 },
    );
  });

  it('refuses a calendar that nobody filled in, and what it cannot read', () => {
    const shipment = { dueAt: at('2026-05-03T15:30'), transitMinutes: 60, backlogMinutes: 0 };
    expect(why(shipBy(shipment, { ...weekdays, hours: [] }))).toContain('receiving hours');
    expect(why(receiptOf(shipment.dueAt, 60, { ...weekdays, hours: [] }))).toContain('receiving hours');
    expect(why(shipBy(shipment, { ...weekdays, timeZone: 'Nowhere' }))).toContain('IANA');
    expect(why(shipBy(shipment, { ...weekdays, closedOn: ['Christmas'] }))).toContain('ISO dates');
    expect(
      why(shipBy(shipment, { ...weekdays, hours: [{ weekday: 1, opensAt: '17:00', closesAt: '09:00' }] })),
    ).toContain('time of a day');
    expect(why(shipBy({ ...shipment, transitMinutes: -1 }, weekdays))).toContain('whole ones');
    expect(why(receiptOf('2026-05-03', 60, weekdays))).toContain('no offset');
    expect(why(receiptOf(shipment.dueAt, 0.5, weekdays))).toContain('whole minutes');
  });
});
