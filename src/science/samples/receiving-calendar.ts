import { Temporal } from 'temporal-polyfill';
import { type Refusal, refuse } from '../refusal.ts';

/** Hours of a weekday by the clock of the place: 1 is Monday; "24:00" closes at the end of the day. */
export interface OpenHours {
  readonly weekday: number;
  readonly opensAt: string;
  readonly closesAt: string;
}

/** A day that has hours of its own, such as a Saturday for which delivery was booked. */
export interface OpenDate {
  readonly date: string;
  readonly opensAt: string;
  readonly closesAt: string;
}

export interface ReceivingCalendar {
  readonly timeZone: string;
  readonly hours: readonly OpenHours[];
  /** Holidays, each such as 2026-11-26; a booked date is open all the same. */
  readonly closedOn: readonly string[];
  readonly alsoOpen: readonly OpenDate[];
}

interface OpenSpell {
  readonly fromMs: number;
  readonly untilMs: number;
}

/** No laboratory is closed for so long; a calendar with no open day in it is one that was not filled in. */
const MOST_DAYS = 60;
const CLOCK = /^(?:[01]\d|2[0-3]):[0-5]\d$/;

/** Undefined where the calendar can be counted with. */
export function calendarFault({ timeZone, hours, closedOn, alsoOpen }: ReceivingCalendar): Refusal | undefined {
  try {
    for (const date of [...closedOn, ...alsoOpen.map((open) => open.date)]) Temporal.PlainDate.from(date);
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(timeZone);
  } catch (error) {
    return refuse(`The calendar of "${timeZone}" cannot be read (${String(error)}): give an IANA zone and ISO dates.`);
  }
  const odd = [...hours, ...alsoOpen].find(
    ({ opensAt, closesAt }) =>
      !CLOCK.test(opensAt) || !(closesAt === '24:00' || CLOCK.test(closesAt)) || closesAt <= opensAt,
  );
  return (
    odd && refuse(`Open from "${odd.opensAt}" to "${odd.closesAt}" is no time of a day: give such as 09:00 and 17:00.`)
  );
}

function atClock(date: Temporal.PlainDate, clock: string, timeZone: string): number {
  if (clock === '24:00') return date.add({ days: 1 }).toZonedDateTime(timeZone).epochMilliseconds;
  return date.toZonedDateTime({ timeZone, plainTime: clock }).epochMilliseconds;
}

function spellsOn(date: Temporal.PlainDate, calendar: ReceivingCalendar): readonly OpenSpell[] {
  const text = date.toString();
  const booked = calendar.alsoOpen.filter((open) => open.date === text);
  const weekly = calendar.closedOn.includes(text)
    ? []
    : calendar.hours.filter(({ weekday }) => weekday === date.dayOfWeek);
  return [...weekly, ...booked]
    .map(({ opensAt, closesAt }) => ({
      fromMs: atClock(date, opensAt, calendar.timeZone),
      untilMs: atClock(date, closesAt, calendar.timeZone),
    }))
    .toSorted((a, b) => a.fromMs - b.fromMs);
}

function dateOf(ms: number, timeZone: string): Temporal.PlainDate {
  return Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(timeZone).toPlainDate();
}

/** The first instant at or after one at which somebody receives; null where nobody does for 60 days. */
export function nextOpenMs(ms: number, calendar: ReceivingCalendar): number | null {
  // From the day before: what closes at 24:00 still receives at that instant, which is of the next day.
  const first = dateOf(ms, calendar.timeZone).subtract({ days: 1 });
  for (let days = 0; days <= MOST_DAYS; days += 1) {
    const open = spellsOn(first.add({ days }), calendar).find(({ untilMs }) => untilMs >= ms);
    if (open) return Math.max(ms, open.fromMs);
  }
  return null;
}

/** The last instant at or before one at which somebody receives; null where nobody did for 60 days. */
export function lastOpenMs(ms: number, calendar: ReceivingCalendar): number | null {
  const last = dateOf(ms, calendar.timeZone);
  for (let days = 0; days <= MOST_DAYS; days += 1) {
    const open = spellsOn(last.subtract({ days }), calendar).findLast(({ fromMs }) => fromMs <= ms);
    if (open) return Math.min(ms, open.untilMs);
  }
  return null;
}
