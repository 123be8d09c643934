import { WEEKDAYS } from '../../protocol/kinds/laboratory.ts';
import type { ReceivingCalendar } from '../../science/samples/receiving-calendar.ts';
import { millionths } from '../millionths.ts';
import type { LaboratoryRecord } from '../samples/sample-records.ts';

/** When a laboratory receives, as its record says. */
export function laboratoryCalendar({ fields }: LaboratoryRecord): ReceivingCalendar {
  return {
    timeZone: fields.timeZone,
    hours: fields.receiving.map(({ day, from, until }) => ({
      weekday: WEEKDAYS.indexOf(day) + 1,
      opensAt: from,
      closesAt: until,
    })),
    closedOn: fields.closedOn ?? [],
    alsoOpen: (fields.alsoOpen ?? []).map(({ date, from, until }) => ({ date, opensAt: from, closesAt: until })),
  };
}

/** Hours of a record as whole minutes, rounded up: nothing arrives or is done earlier than was said. */
export function minutesOfHours(hours: string): number {
  return Math.ceil((millionths(hours) * 60) / 1_000_000);
}

/** From receipt to the first step of an analysis; none where the laboratory's record does not say. */
export function backlogMinutes({ fields }: LaboratoryRecord): number {
  return fields.handlingHours === undefined ? 0 : minutesOfHours(fields.handlingHours);
}
