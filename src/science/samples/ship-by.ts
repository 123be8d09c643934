import { Temporal } from 'temporal-polyfill';
import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { readInstant } from './instants.ts';
import { calendarFault, lastOpenMs, nextOpenMs, type ReceivingCalendar } from './receiving-calendar.ts';

const MINUTE_MS = 60_000;

function utc(ms: number): string {
  return Temporal.Instant.fromEpochMilliseconds(ms).toString();
}

function isNoLength(minutes: number): boolean {
  return !(Number.isInteger(minutes) && minutes >= 0);
}

export interface Receipt {
  /** At the door of the laboratory. */
  readonly arrivesAt: string;
  /** When somebody is there to receive it. */
  readonly receivedAt: string;
}

/**
 * When a shipment that leaves at an instant is received: after its transit, when the laboratory is open.
 *
 * Source: arithmetic. @example from Friday 15:30 with no transit and hours from Monday 09:00, Monday 09:00
 */
export function receiptOf(leavesAt: string, transitMinutes: number, calendar: ReceivingCalendar): Receipt | Refusal {
  const leaves = readInstant('The departure', leavesAt);
  if (isRefusal(leaves)) return leaves;
  if (isNoLength(transitMinutes))
    return refuse(`A transit of ${transitMinutes} minutes is none: give whole minutes, 0 or more.`);
  const fault = calendarFault(calendar);
  if (fault) return fault;
  const arrivesMs = leaves.epochMilliseconds + transitMinutes * MINUTE_MS;
  const receivedMs = nextOpenMs(arrivesMs, calendar);
  if (receivedMs === null) return refuse('The laboratory receives nothing for 60 days: give its receiving hours.');
  return { arrivesAt: utc(arrivesMs), receivedAt: utc(receivedMs) };
}

export interface ShipmentDue {
  /** The earliest of the deadlines of what is in it. */
  readonly dueAt: string;
  readonly transitMinutes: number;
  /** What the laboratory needs from receipt to the step that the deadline is of. */
  readonly backlogMinutes: number;
}

export interface ShipBy {
  readonly receivedBy: string;
  readonly leaveBy: string;
}

/**
 * The latest departure that still meets a deadline: deadline less backlog, back to when the laboratory last receives, less
 * transit. Whether that is already past is for who knows the time to say.
 *
 * Source: arithmetic. @example due Sunday 15:30, open Monday to Friday 09:00 to 17:00, transit 3 h: leave by Friday 14:00
 */
export function shipBy(shipment: ShipmentDue, calendar: ReceivingCalendar): ShipBy | Refusal {
  const due = readInstant('The deadline', shipment.dueAt);
  if (isRefusal(due)) return due;
  if (isNoLength(shipment.transitMinutes) || isNoLength(shipment.backlogMinutes))
    return refuse(
      `${shipment.transitMinutes} and ${shipment.backlogMinutes} minutes are no transit and backlog: give whole ones, 0 or more.`,
    );
  const fault = calendarFault(calendar);
  if (fault) return fault;
  const receivedMs = lastOpenMs(due.epochMilliseconds - shipment.backlogMinutes * MINUTE_MS, calendar);
  if (receivedMs === null) return refuse('The laboratory received nothing for 60 days: give its receiving hours.');
  return { receivedBy: utc(receivedMs), leaveBy: utc(receivedMs - shipment.transitMinutes * MINUTE_MS) };
}
