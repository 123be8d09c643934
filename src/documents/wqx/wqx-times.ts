import { Temporal } from 'temporal-polyfill';
import type { WqxTime } from './wqx-facts.ts';
import { ZONE_CODES } from './wqx-lists.ts';

function codeOf(at: Temporal.ZonedDateTime, { timeZone }: WqxTime): string | undefined {
  const names = new Intl.DateTimeFormat('en-US', { timeZone, timeZoneName: 'short' });
  const name = names.formatToParts(at.epochMilliseconds).find(({ type }) => type === 'timeZoneName')?.value ?? '';
  // the same letters name other zones elsewhere in the world
  return ZONE_CODES[name] === at.offset ? name : undefined;
}

/** Local date and time where the list has a code for the zone, and else UTC: no code is made up. */
export function wqxTime(time: WqxTime): {
  readonly date: string;
  readonly time: { readonly Time: string; readonly TimeZoneCode: string };
} {
  const instant = Temporal.Instant.from(time.at);
  const local = instant.toZonedDateTimeISO(time.timeZone);
  const code = codeOf(local, time);
  const told = code === undefined ? instant.toZonedDateTimeISO('UTC') : local;
  const clock = told.toPlainTime().toString({ smallestUnit: 'second' });
  return { date: told.toPlainDate().toString(), time: { Time: clock, TimeZoneCode: code ?? 'UTC' } };
}
