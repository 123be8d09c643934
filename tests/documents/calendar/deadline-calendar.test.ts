import fc from 'fast-check';
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { deadlineCalendar } from '../../../src/documents/calendar/deadline-calendar.ts';
import type { CalendarDeadline } from '../../../src/documents/calendar/deadline-facts.ts';

const nitrate: CalendarDeadline = {
  uid: '018f0000-0000-7000-8000-000000000001',
  sequence: 2,
  dueAt: '2026-05-10T15:30:00.750Z',
  changedAt: '2026-05-08T19:30:00Z',
  title: 'Nitrate of W26-113: 48 h end',
  detail: 'Collected 2026-05-08 15:30; three containers\nin cooler C2, "iced"',
  place: 'Example Laboratory',
  alarmMinutesBefore: [120],
};
const metals = { ...nitrate, uid: 'b', sequence: 0, dueAt: '2026-05-09T00:00:00Z', title: 'Metals', isCancelled: true };

/** Opens a calendar with a parser of another maker. */
function entriesOf(text: string): readonly InstanceType<typeof ICAL.Event>[] {
  const calendar = new ICAL.Component(ICAL.parse(text));
  return calendar.getAllSubcomponents('vevent').map((one) => new ICAL.Event(one));
}

describe('the calendar of deadlines', () => {
  const text = deadlineCalendar({ name: 'Deadlines; all, of them', deadlines: [nitrate, metals], refreshMinutes: 15 });

  it('is read by another parser as it was meant, the earliest first', () => {
    const [first, second] = entriesOf(text);
    expect(first?.summary).toBe('Metals');
    expect(first?.component.getFirstPropertyValue('status')).toBe('CANCELLED');
    expect(first?.component.getAllSubcomponents('valarm')).toHaveLength(0);
    expect(second?.uid).toBe(nitrate.uid);
    expect(second?.sequence).toBe(2);
    expect(second?.summary).toBe(nitrate.title);
    expect(second?.description).toBe(nitrate.detail);
    expect(second?.location).toBe('Example Laboratory');
    expect(second?.startDate.toJSDate().toISOString()).toBe('2026-05-10T15:30:00.000Z');
    expect(String(second?.component.getFirstSubcomponent('valarm')?.getFirstPropertyValue('trigger'))).toBe('-PT120M');
    const calendar = new ICAL.Component(ICAL.parse(text));
    // the parser knows RFC 5545 and not the NAME of RFC 7986, so it leaves that as it is written
    expect(calendar.getFirstPropertyValue('name')).toBe('Deadlines\\; all\\, of them');
    expect(String(calendar.getFirstPropertyValue('refresh-interval'))).toBe('PT15M');
  });

  it('tells every instant in UTC, and says the same text for the same deadlines in any order', () => {
    expect(text).toContain('DTSTART:20260510T153000Z\r\n');
    expect(text).not.toContain('TZID');
    expect(
      deadlineCalendar({ name: 'Deadlines; all, of them', deadlines: [metals, nitrate], refreshMinutes: 15 }),
    ).toBe(text);
  });

  it('is empty and whole without deadlines', () => {
    expect(entriesOf(deadlineCalendar({ name: 'none', deadlines: [] }))).toEqual([]);
  });

  it('gives any text back as it was, on lines of at most 75 octets that end in CR LF', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 300 }), fc.string({ maxLength: 80 }), (title, detail) => {
        const made = deadlineCalendar({ name: title, deadlines: [{ ...nitrate, title, detail }] });
        for (const line of made.split('\r\n')) {
          expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
          expect(line).not.toMatch(/[\r\n]/);
        }
        const shown = title
          .replace(/\r\n?/g, '\n')
          // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
          .replace(/[\u0000-\u0008\u000b-\u001f\u007f]/g, '\ufffd');
        expect(entriesOf(made)[0]?.summary ?? '').toBe(shown);
      }),
      { seed: 5545, numRuns: 300 },
    );
  });

  it('lets no text begin a line of its own', () => {
    const title = 'x\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nUID:evil';
    expect(entriesOf(deadlineCalendar({ name: 'n', deadlines: [{ ...nitrate, title }] }))).toHaveLength(1);
  });

  it('says what is wrong', () => {
    const make = (more: Partial<CalendarDeadline>) => () =>
      deadlineCalendar({ name: 'n', deadlines: [{ ...nitrate, ...more }] });
    expect(make({ dueAt: 'soon' })).toThrow(/needs an instant, not "soon"/);
    expect(make({ sequence: -1 })).toThrow(/whole number from 0, not -1/);
    expect(make({ uid: '' })).toThrow(/has no uid/);
    expect(make({ alarmMinutesBefore: [1.5] })).toThrow(/in minutes, is a whole number from 0, not 1.5/);
  });
});
