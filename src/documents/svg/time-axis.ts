import { Temporal } from 'temporal-polyfill';

/** A stretch of time that is drawn, in milliseconds since 1970. */
export interface TimeWindow {
  readonly fromMs: number;
  readonly untilMs: number;
}

export interface Tick {
  readonly ms: number;
  readonly label: string;
  /** It begins a day where hours are told, a year where months are. */
  readonly isMain: boolean;
}

interface Step {
  readonly unit: 'minutes' | 'days' | 'months' | 'years';
  readonly each: number;
}

const MINUTE_MS = 60_000;
const UNIT_MS = { minutes: MINUTE_MS, days: 1_440 * MINUTE_MS, months: 43_200 * MINUTE_MS, years: 525_600 * MINUTE_MS };

function steps(unit: Step['unit'], each: readonly number[]): readonly Step[] {
  return each.map((count) => ({ unit, each: count }));
}

const STEPS: readonly Step[] = [
  ...steps('minutes', [5, 15, 30, 60, 120, 180, 360, 720]),
  ...steps('days', [1, 2, 7, 14]),
  ...steps('months', [1, 2, 3, 6]),
  ...steps('years', [1, 2, 5, 10]),
];
const COARSEST: Step = { unit: 'years', each: 25 };

export function inZone(ms: number, timeZone: string): Temporal.ZonedDateTime {
  return Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(timeZone);
}

const two = (number: number) => String(number).padStart(2, '0');

/** "2026-05-04 10:40", by the clocks of the zone. */
export function zonedText(ms: number, timeZone: string): string {
  const { year, month, day, hour, minute } = inZone(ms, timeZone);
  return `${year}-${two(month)}-${two(day)} ${two(hour)}:${two(minute)}`;
}

/** "2026-05-04", by the calendar of the zone. */
export function zonedDay(ms: number, timeZone: string): string {
  return zonedText(ms, timeZone).slice(0, 10);
}

function labelOf(at: Temporal.ZonedDateTime, { unit }: Step): Omit<Tick, 'ms'> {
  const { year, month, day, hour, minute } = at;
  if (unit === 'years') return { label: String(year), isMain: true };
  if (unit === 'months') return { label: `${year}-${two(month)}`, isMain: month === 1 };
  if (unit === 'days') return { label: `${two(month)}-${two(day)}`, isMain: day === 1 };
  if (hour === 0 && minute === 0) return { label: `${two(month)}-${two(day)}`, isMain: true };
  return { label: `${two(hour)}:${two(minute)}`, isMain: false };
}

/** By the clocks of each day anew: a day of 25 hours has its 06:00 too. */
function* clockTimes(from: Temporal.ZonedDateTime, each: number): Generator<Temporal.ZonedDateTime> {
  for (let day = from.startOfDay(); ; day = day.add({ days: 1 }).startOfDay())
    for (let minutes = 0; minutes < 1_440; minutes += each) {
      const plainTime = new Temporal.PlainTime(Math.floor(minutes / 60), minutes % 60);
      yield day.toPlainDate().toZonedDateTime({ timeZone: day.timeZoneId, plainTime });
    }
}

/** Weeks begin on Mondays, months are counted from January, years from one that the step divides. */
function beginning(from: Temporal.ZonedDateTime, { unit, each }: Step): Temporal.ZonedDateTime {
  const day = from.startOfDay();
  if (unit === 'days') return each < 7 ? day : day.subtract({ days: day.dayOfWeek - 1 });
  const year = unit === 'years' ? day.year - (day.year % each) : day.year;
  return day.with({ year, month: 1, day: 1 }).startOfDay();
}

function* calendarTimes(from: Temporal.ZonedDateTime, step: Step): Generator<Temporal.ZonedDateTime> {
  const start = beginning(from, step);
  for (let count = 0; ; count += 1) yield start.add({ [step.unit]: count * step.each });
}

/**
 * Where an axis of time is marked: at round times by the clocks and the calendar of a zone, also on days that have 23 or
 * 25 hours.
 *
 * @param most about so many ticks fit
 */
export function timeTicks({ fromMs, untilMs }: TimeWindow, timeZone: string, most: number): readonly Tick[] {
  const step = STEPS.find(({ unit, each }) => (untilMs - fromMs) / (UNIT_MS[unit] * each) <= most) ?? COARSEST;
  const from = inZone(fromMs, timeZone);
  const ticks: Tick[] = [];
  for (const at of step.unit === 'minutes' ? clockTimes(from, step.each) : calendarTimes(from, step)) {
    const ms = at.epochMilliseconds;
    if (ms > untilMs) break;
    if (ms >= fromMs && ms !== ticks.at(-1)?.ms) ticks.push({ ms, ...labelOf(at, step) });
  }
  return ticks;
}
