import { Temporal } from 'temporal-polyfill';

const two = (number: number) => String(number).padStart(2, '0');

/** "2026-05-04 10:40 -04:00": by the clocks of the zone, with the offset, so that a night when they go back is clear. */
export function localTime(instant: string, timeZone: string): string {
  const at = Temporal.Instant.from(instant).toZonedDateTimeISO(timeZone);
  const day = `${at.year}-${two(at.month)}-${two(at.day)}`;
  return `${day} ${two(at.hour)}:${two(at.minute)} ${at.offset}`;
}

/** "2026-05-04", by the calendar of the zone. */
export function localDay(instant: string, timeZone: string): string {
  return localTime(instant, timeZone).slice(0, 10);
}
