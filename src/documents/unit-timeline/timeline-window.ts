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

function lifeOf({ entries, states }: TimelineFacts): TimeWindow | null {
  const told = [
    ...entries.flatMap(({ from, until }) => (until ? [from, until] : [from])).map(instantMs),
    ...states.map(({ fromMs }) => fromMs).filter(Number.isFinite),
  ];
  const [fromMs, untilMs] = [
    told.reduce((a, b) => Math.min(a, b), Infinity),
    told.reduce((a, b) => Math.max(a, b), -Infinity),
  ];
  return told.length === 0 ? null : { fromMs, untilMs };
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

/** The days that are asked for, or all of the life of the unit; null where nothing says when it lived. */
export function timelineWindow(facts: TimelineFacts): TimeWindow | null {
  const { from, until, timeZone } = facts;
  const life = lifeOf(facts);
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
