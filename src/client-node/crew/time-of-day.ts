import { Temporal } from 'temporal-polyfill';
import { instantMs } from '../../science/instant-ms.ts';
import { CrewError } from './crew-error.ts';
import { field, theEvent } from './find.ts';
import type { Crew } from './open-crew.ts';

const TIME = /^([01]?\d|2[0-3]):([0-5]\d)$/;

/** Hours and minutes, "09:45"; undefined for anything else. */
export function clockTime(given: string): string | undefined {
  const [, hour, minute] = TIME.exec(given) ?? [];
  return hour === undefined ? undefined : `${hour.padStart(2, '0')}:${minute ?? '00'}`;
}

/** The same day and offset as an instant that is on record. */
export function onDayOf(instant: string, time: string): string {
  const offset = /(?:Z|[+-]\d\d:\d\d)$/.exec(instant)?.[0] ?? 'Z';
  return `${instant.slice(0, 11)}${time}:00${offset}`;
}

/** A watch at the site shows the time of the site, whatever zone this computer is set to. */
async function zoneOf(crew: Crew): Promise<string | null> {
  const event = await theEvent(crew).catch(() => null);
  const site = event === null ? null : await crew.client.one(field(event, 'site'));
  return field(site?.record, 'timeZone') || null;
}

function today(now: string, zone: string | null, time: string): string {
  if (zone === null) return onDayOf(now, time);
  const local = Temporal.Instant.from(now).toZonedDateTimeISO(zone);
  const then = local.withPlainTime(Temporal.PlainTime.from(time));
  return `${then.toPlainDateTime().toString({ smallestUnit: 'second' })}${then.offset}`;
}

/** The date at the site. */
export async function todayAtSite(crew: Crew): Promise<string> {
  const now = crew.client.context.time.wall();
  const zone = await zoneOf(crew);
  return zone === null
    ? now.slice(0, 10)
    : Temporal.Instant.from(now).toZonedDateTimeISO(zone).toPlainDate().toString();
}

/**
 * The date at the site, or that of this device where it is the later one: records have the day of the clock that wrote
 * them, and a computer may be set to another zone than the site.
 */
export async function latestDay(crew: Crew): Promise<string> {
  const here = crew.client.context.time.wall().slice(0, 10);
  const there = await todayAtSite(crew);
  return [here, there].sort().at(-1) ?? there;
}

/** A time of today at the site, for what was read a while ago. */
export async function todayAt(crew: Crew, given: string): Promise<string> {
  const time = clockTime(given);
  if (time === undefined) throw new CrewError(`"${given}" is no time of the day: give 09:45`);
  const now = crew.client.context.time.wall();
  const zone = await zoneOf(crew);
  const then = today(now, zone, time);
  if (instantMs(then) <= instantMs(now)) return then;
  const there = zone === null ? now : `${Temporal.Instant.from(now).toZonedDateTimeISO(zone).toPlainDateTime()}`;
  throw new CrewError(`${time} is still to come (it is ${there.slice(11, 16)} at the site): a time of today is given`);
}

/** When it was seen, where the crew says so, or now. */
export function whenSeen(crew: Crew): string {
  return crew.seenAt ?? crew.client.context.time.wall();
}

/** The same crew, speaking of what was seen at that time. */
export function seenAt(crew: Crew, at: string | null): Crew {
  return at === null ? crew : Object.create(crew, { seenAt: { value: at } });
}

/** Takes at=09:45 out of the words of a command. */
export function takeTime(words: readonly string[], option?: string) {
  const times = words.filter((one) => one.startsWith('at=')).map((one) => one.slice(3));
  const [at, ...more] = option === undefined ? times : [option, ...times];
  if (more.length > 0) throw new CrewError(`the time is given twice, ${at} and ${more.join(' and ')}: which is it?`);
  return { at, rest: words.filter((one) => !one.startsWith('at=')) };
}
