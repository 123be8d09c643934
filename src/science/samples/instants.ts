import { Temporal } from 'temporal-polyfill';
import { isRefusal, type Refusal, refuse } from '../refusal.ts';

const WITH_OFFSET = /T\d\d:\d\d.*(?:Z|[+-]\d\d:\d\d)(?:\[|$)/i;

/** An instant such as 2026-05-04T10:05:00-05:00; refused without an offset, for then it is 24 instants. */
export function readInstant(name: string, text: string): Temporal.Instant | Refusal {
  if (!WITH_OFFSET.test(text))
    return refuse(`${name} "${text}" has no offset: give one such as 2026-05-04T10:05:00-05:00.`);
  try {
    return Temporal.Instant.from(text);
  } catch {
    return refuse(`${name} "${text}" is no instant: give one such as 2026-05-04T10:05:00-05:00.`);
  }
}

/** Minutes from one instant to another, below zero where the second is the earlier; fractions where seconds differ. */
export function minutesBetween(from: Temporal.Instant, to: Temporal.Instant): number {
  return (to.epochMilliseconds - from.epochMilliseconds) / 60_000;
}

/**
 * An instant by the clock on the wall of a place, with its offset then.
 *
 * @example atPlace('2025-03-10T19:00:00Z', 'America/New_York') // '2025-03-10T15:00:00-04:00'
 */
export function atPlace(instant: string, timeZone: string): string | Refusal {
  const read = readInstant('The instant', instant);
  if (isRefusal(read)) return read;
  try {
    return read.toZonedDateTimeISO(timeZone).toString({ timeZoneName: 'never' });
  } catch {
    return refuse(`The time zone "${timeZone}" is not known: give a name of the IANA list, such as America/New_York.`);
  }
}
