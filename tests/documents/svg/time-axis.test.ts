import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { timeTicks, zonedText } from '../../../src/documents/svg/time-axis.ts';

const ms = (at: string) => Date.parse(at);
const labels = (from: string, until: string, zone: string, most = 14) =>
  timeTicks({ fromMs: ms(from), untilMs: ms(until) }, zone, most).map(({ label }) => label);

describe('the marks of an axis of time', () => {
  it('stand at round hours of the zone, and name the day at its midnight', () => {
    expect(labels('2026-05-04T05:00Z', '2026-05-05T05:00Z', 'America/Chicago')).toEqual(
      [
        '05-04',
        '02:00',
        '04:00',
        '06:00',
        '08:00',
        '10:00',
        '12:00',
        '14:00',
        '16:00',
        '18:00',
        '20:00',
        '22:00',
      ].concat('05-05'),
    );
  });

  it('keep to the clock on days of 23 and of 25 hours', () => {
    expect(labels('2026-03-08T06:00Z', '2026-03-09T05:00Z', 'America/Chicago', 9)).toEqual([
      '03-08',
      '03:00',
      '06:00',
      '09:00',
      '12:00',
      '15:00',
      '18:00',
      '21:00',
      '03-09',
    ]);
    expect(labels('2026-11-01T05:00Z', '2026-11-02T06:00Z', 'America/Chicago', 5)).toEqual([
      '11-01',
      '06:00',
      '12:00',
      '18:00',
      '11-02',
    ]);
  });

  it('stand at Mondays, at firsts of a month and at new years where the time is long', () => {
    expect(labels('2026-05-01T00:00Z', '2026-07-20T00:00Z', 'UTC')).toEqual([
      '05-04',
      '05-11',
      '05-18',
      '05-25',
      '06-01',
      '06-08',
      '06-15',
      '06-22',
      '06-29',
      '07-06',
      '07-13',
      '07-20',
    ]);
    expect(labels('2026-01-01T00:00Z', '2027-01-01T00:00Z', 'UTC')).toHaveLength(13);
    expect(labels('2019-05-01T00:00Z', '2026-01-01T00:00Z', 'UTC', 8)).toEqual([
      '2020',
      '2021',
      '2022',
      '2023',
      '2024',
      '2025',
      '2026',
    ]);
  });

  it('are in order, within the window, never too many, and each says its own time', () => {
    const zones = fc.constantFrom('America/Chicago', 'Asia/Kathmandu', 'Australia/Lord_Howe', 'UTC');
    const times = fc.integer({ min: ms('2015-01-01T00:00Z'), max: ms('2030-01-01T00:00Z') });
    const spans = fc.integer({ min: 600_000, max: 40 * 365 * 86_400_000 });
    fc.assert(
      fc.property(times, spans, zones, (fromMs, span, zone) => {
        const window = { fromMs, untilMs: fromMs + span };
        const ticks = timeTicks(window, zone, 14);
        expect(ticks.length).toBeLessThanOrEqual(16);
        for (const [at, tick] of ticks.entries()) {
          expect(tick.ms).toBeGreaterThan(ticks[at - 1]?.ms ?? fromMs - 1);
          expect(tick.ms).toBeLessThanOrEqual(window.untilMs);
          expect(zonedText(tick.ms, zone)).toContain(tick.label);
        }
      }),
      { numRuns: 200 },
    );
  });
});
