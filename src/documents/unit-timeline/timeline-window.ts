import { Temporal } from 'temporal-polyfill';
import { instantMs } from '../../science/instant-ms.ts';
import { inZone, type TimeWindow } from '../svg/time-axis.ts';
import type { TimelineFacts } from './timeline-facts.ts';

const HOUR_MS = 3_600_000;
/** Up to so much the hours before the first and after the last record are left out; longer, days are drawn whole. */
const SHORT_MS = 48 * HOUR_MS;

function dayMs(day: string, timeZone: string, plusDays: number): number {
  return Temporal.PlainDate.from(day).add({ days: plusDays }).toZonedDateTime(timeZone).epochMilliseconds;
}

/** A pause that is longer than this lies between two rounds: drawn to scale it would leave slivers of both. */
const PAUSE_MS = 21 * 24 * HOUR_MS;

function toldTimes({ entries, states }: TimelineFacts): readonly number[] {
  const told = [
    ...entries.flatMap(({ from, until }) => (until ? [from, until] : [from])).map(instantMs),
    ...states.map(({ fromMs }) => fromMs).filter(Number.isFinite),
  ];
  return told.toSorted((a, b) => a - b);
}

/** The latest round: from the last long pause on to the last that is known, or to the end that is asked for. */
function lifeOf(facts: TimelineFacts, endMs: number): TimeWindow | null {
  const all = toldTimes(facts);
  const asked = all.filter((ms) => ms <= endMs);
  const told = asked.length > 0 ? asked : all;
  const [untilMs] = told.slice(-1);
  if (untilMs === undefined) return null;
  const first = told.findLastIndex((ms, at) => ms - (told[at - 1] ?? Number.NEGATIVE_INFINITY) > PAUSE_MS);
  return { fromMs: told[Math.max(first, 0)] ?? untilMs, untilMs };
}

/** When the first round began, where the window leaves one out because no day to begin with was asked for. */
export function leftOutSince(facts: TimelineFacts, { fromMs }: TimeWindow): number | null {
  const [first] = toldTimes(facts);
  return facts.from === undefined && first !== undefined && first < fromMs ? first : null;
}

function rounded({ fromMs, untilMs }: TimeWindow, timeZone: string): TimeWindow {
  if (untilMs - fromMs <= SHORT_MS)
    return {
      fromMs: Math.floor(fromMs / HOUR_MS) * HOUR_MS,
      untilMs: (Math.floor(untilMs / HOUR_MS) + 1) * HOUR_MS,
    };
  const end = inZone(untilMs, timeZone).startOfDay().add({ days: 1 });
  return { fromMs: inZone(fromMs, timeZone).startOfDay().epochMilliseconds, untilMs: end.epochMilliseconds };
}

/** The days that are asked for, or those of the latest round; null where nothing says when it lived. */
export function timelineWindow(facts: TimelineFacts): TimeWindow | null {
  const { from, until, timeZone } = facts;
  const life = lifeOf(facts, until === undefined ? Number.POSITIVE_INFINITY : dayMs(until, timeZone, 1));
  const whole = life && rounded(life, timeZone);
  const fromMs = from === undefined ? whole?.fromMs : dayMs(from, timeZone, 0);
  const untilMs = until === undefined ? whole?.untilMs : dayMs(until, timeZone, 1);
  if (fromMs === undefined || untilMs === undefined) return null;
  // what is asked for lies before or after all that is known: that day alone is drawn
  if (untilMs <= fromMs)
    return until === undefined
      ? { fromMs, untilMs: fromMs + 24 * HOUR_MS }
      : { fromMs: untilMs - 24 * HOUR_MS, untilMs };
  return { fromMs, untilMs };
}
