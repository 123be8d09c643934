import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { elapsedDeadline } from '../../../src/science/samples/elapsed-deadline.ts';
import { atPlace } from '../../../src/science/samples/instants.ts';
import { given, why } from './given.ts';
import { offsetMinutes, wallClock } from './intl-oracle.ts';

const HOUR = 60;
const DAY = 24 * HOUR;
const ZONES = [
  'America/New_York',
  'America/Chicago',
  'America/Denver',
  'America/Phoenix',
  'America/Anchorage',
  'Pacific/Honolulu',
  'America/St_Johns',
];

function textWithOffset(epochMs: number, timeZone: string): string {
  const minutes = offsetMinutes(epochMs, timeZone);
  const two = (n: number) => String(n).padStart(2, '0');
  const size = Math.abs(minutes);
  return `${wallClock(epochMs, timeZone)}${minutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

describe('a deadline counts elapsed hours', () => {
  // Forward on 9 Mar 2025, back on 2 Nov 2025 in the zones of the United States that change.
  it.each([
    ['nitrate, 48 h over the change in spring', '2025-03-08T14:00:00-05:00', 48 * HOUR, '2025-03-10T15:00:00-04:00'],
    ['nitrate, 48 h over the change in autumn', '2025-11-01T14:00:00-04:00', 48 * HOUR, '2025-11-03T13:00:00-05:00'],
    [
      'an end in the hour that comes twice, the second',
      '2025-10-31T02:30:00-04:00',
      48 * HOUR,
      '2025-11-02T01:30:00-05:00',
    ],
    [
      'an end in the hour that comes twice, the first',
      '2025-10-31T01:30:00-04:00',
      48 * HOUR,
      '2025-11-02T01:30:00-04:00',
    ],
    ['15 min into the hour that is left out', '2025-03-09T01:50:00-05:00', 15, '2025-03-09T03:05:00-04:00'],
    ['no change', '2026-05-04T10:05:30-04:00', 14 * DAY, '2026-05-18T10:05:30-04:00'],
  ])('%s', (_what, startedAt, minutes, expected) => {
    expect(atPlace(given(elapsedDeadline(startedAt, minutes)), 'America/New_York')).toBe(expected);
  });

  // Six months are 180 days by US EPA's questions and answers on SW-846; six months of the calendar end a day later.
  it('metals of 31 Aug 2025 are due after 180 days, on 27 Feb 2026, and not after 6 months of the calendar', () => {
    const due = given(elapsedDeadline('2025-08-31T12:00:00-04:00', 180 * DAY));
    expect(String(atPlace(due, 'America/New_York')).slice(0, 10)).toBe('2026-02-27');
    expect(Date.parse(due) - Date.parse('2025-08-31T12:00:00-04:00')).toBe(180 * 86_400_000);
  });

  it('agrees with the tables of the platform, wherever and whenever', () => {
    const starts = fc
      .integer({ min: Date.parse('2015-01-01'), max: Date.parse('2035-01-01') })
      .map((ms) => ms - (ms % 1_000));
    fc.assert(
      fc.property(
        starts,
        fc.integer({ min: 0, max: 400 * DAY }),
        fc.constantFrom(...ZONES),
        (startMs, minutes, zone) => {
          const due = given(elapsedDeadline(textWithOffset(startMs, zone), minutes));
          expect(Date.parse(due)).toBe(startMs + minutes * 60_000);
          expect(atPlace(due, zone)).toBe(textWithOffset(startMs + minutes * 60_000, zone));
        },
      ),
      { numRuns: 300 },
    );
  });

  it('refuses what is no instant or no limit, and says what to give', () => {
    expect(why(elapsedDeadline('2025-03-08T14:00:00', 60))).toContain('has no offset');
    expect(why(elapsedDeadline('2025-03-08', 60))).toContain('has no offset');
    expect(why(elapsedDeadline('2025-13-08T14:00:00Z', 60))).toContain('is no instant');
    for (const limit of [-1, 0.5, Number.NaN])
      expect(why(elapsedDeadline('2025-03-08T14:00:00Z', limit))).toContain('whole minutes');
    expect(why(atPlace('2025-03-08T14:00:00Z', 'Nowhere/Town'))).toContain('is not known');
    expect(why(atPlace('soon', 'America/Denver'))).toContain('no offset');
  });
});
