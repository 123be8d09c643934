import { Temporal } from 'temporal-polyfill';
import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { readInstant } from './instants.ts';
import { calendarFault, lastOpenMs, nextOpenMs, type ReceivingCalendar } from './receiving-calendar.ts';

type Search = (ms: number, calendar: ReceivingCalendar) => number | null;

function atCounter(instant: string, counter: ReceivingCalendar, search: Search): string | Refusal {
  const read = readInstant('The instant', instant);
  if (isRefusal(read)) return read;
  const fault = calendarFault(counter);
  if (fault) return fault;
  const ms = search(read.epochMilliseconds, counter);
  if (ms === null) return refuse('The counter is closed for 60 days: give the hours at which it takes parcels.');
  return Temporal.Instant.fromEpochMilliseconds(ms).toString();
}

/**
 * The latest that a cooler can be handed in, where it must leave by an instant and a counter takes it at its hours only.
 *
 * Source: arithmetic. @example leave by Saturday 10:00, counter open Monday to Friday until 18:00: Friday 18:00
 */
export function handInBy(leaveBy: string, counter: ReceivingCalendar): string | Refusal {
  return atCounter(leaveBy, counter, lastOpenMs);
}

/**
 * When a cooler that is packed at an instant leaves, at the earliest.
 *
 * Source: arithmetic. @example packed Friday 19:00, counter open Monday to Friday from 08:00: Monday 08:00
 */
export function leavesAt(packedAt: string, counter: ReceivingCalendar): string | Refusal {
  return atCounter(packedAt, counter, nextOpenMs);
}
