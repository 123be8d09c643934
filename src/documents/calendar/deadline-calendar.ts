import { calendarInstant, calendarText, contentLine } from './content-line.ts';
import type { CalendarDeadline, DeadlineCalendar } from './deadline-facts.ts';

type Pair = readonly [name: string, value: string];

function whole(value: number, what: string): string {
  if (!Number.isInteger(value) || value < 0) throw new RangeError(`${what} is a whole number from 0, not ${value}`);
  return String(value);
}

function alarm(minutes: number, title: string): readonly Pair[] {
  return [
    ['BEGIN', 'VALARM'],
    ['ACTION', 'DISPLAY'],
    ['DESCRIPTION', calendarText(title)],
    ['TRIGGER', `-PT${whole(minutes, 'an alarm before a deadline, in minutes,')}M`],
    ['END', 'VALARM'],
  ];
}

/** An entry without an end lasts no time at all, which is what a deadline does. RFC 5545, 3.6.1. */
function entry(deadline: CalendarDeadline): readonly Pair[] {
  const { uid, sequence, dueAt, changedAt, title, detail, place, isCancelled = false } = deadline;
  if (uid === '') throw new RangeError(`the deadline "${title}" has no uid: give the id of its record`);
  const alarms = isCancelled ? [] : (deadline.alarmMinutesBefore ?? []);
  return [
    ['BEGIN', 'VEVENT'],
    ['UID', calendarText(uid)],
    ['SEQUENCE', whole(sequence, 'the sequence of a deadline')],
    ['DTSTAMP', calendarInstant(changedAt)],
    ['LAST-MODIFIED', calendarInstant(changedAt)],
    ['DTSTART', calendarInstant(dueAt)],
    ['SUMMARY', calendarText(title)],
    ...(detail === undefined ? [] : [['DESCRIPTION', calendarText(detail)] as const]),
    ...(place === undefined ? [] : [['LOCATION', calendarText(place)] as const]),
    ['STATUS', isCancelled ? 'CANCELLED' : 'CONFIRMED'],
    // a deadline does not fill anybody's day
    ['TRANSP', 'TRANSPARENT'],
    ...alarms.flatMap((minutes) => alarm(minutes, title)),
    ['END', 'VEVENT'],
  ];
}

function earliestFirst(a: CalendarDeadline, b: CalendarDeadline): number {
  const apart = Date.parse(a.dueAt) - Date.parse(b.dueAt);
  if (apart !== 0) return apart;
  return a.uid < b.uid ? -1 : a.uid > b.uid ? 1 : 0;
}

/** The deadlines as an iCalendar feed (RFC 5545), the earliest first: the same deadlines give the same text. */
export function deadlineCalendar({ name, deadlines, refreshMinutes }: DeadlineCalendar): string {
  const pairs: readonly Pair[] = [
    ['BEGIN', 'VCALENDAR'],
    ['VERSION', '2.0'],
    ['PRODID', '-//Wellround//Deadlines of containers//EN'],
    ['CALSCALE', 'GREGORIAN'],
    ['METHOD', 'PUBLISH'],
    ['NAME', calendarText(name)],
    ...(refreshMinutes === undefined
      ? []
      : [
          [
            'REFRESH-INTERVAL;VALUE=DURATION',
            `PT${whole(refreshMinutes, 'the minutes until a reader asks again')}M`,
          ] as const,
        ]),
    ...[...deadlines].sort(earliestFirst).flatMap(entry),
    ['END', 'VCALENDAR'],
  ];
  return pairs.map(([key, value]) => contentLine(key, value)).join('');
}
