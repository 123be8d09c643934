import { Temporal } from 'temporal-polyfill';
import { recordStates } from '../store/read/record-states.ts';
import type { ReadTx } from '../store/read/transaction.ts';

/** A day of the calendar where a site is, with the instants between which it lies. */
export interface DayAtSite {
  readonly day: string;
  readonly timeZone: string;
  readonly from: string;
  readonly until: string;
}

/** @param day that is asked for; missing: the one on which `now` falls there */
export async function dayAtSite(
  tx: ReadTx,
  site: string,
  { day, now }: { readonly day?: string | undefined; readonly now: string },
): Promise<DayAtSite> {
  const [row] = await recordStates(tx, [site], null);
  const timeZone = String(row?.state.fields.timeZone ?? 'UTC');
  const asked = day
    ? Temporal.PlainDate.from(day)
    : Temporal.Instant.from(now).toZonedDateTimeISO(timeZone).toPlainDate();
  const starts = (date: Temporal.PlainDate) => date.toZonedDateTime(timeZone).toInstant().toString();
  return { day: asked.toString(), timeZone, from: starts(asked), until: starts(asked.add({ days: 1 })) };
}
