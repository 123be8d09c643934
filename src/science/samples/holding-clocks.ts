import type { Temporal } from 'temporal-polyfill';
import { isRefusal, type Refusal } from '../refusal.ts';
import { elapsedDeadline } from './elapsed-deadline.ts';
import { minutesBetween, readInstant } from './instants.ts';

/** From which step to which a limit counts. */
export const HOLDING_CLOCKS = [
  'collection-to-filtration',
  'collection-to-preservation',
  'collection-to-extraction',
  'extraction-to-analysis',
  'collection-to-analysis',
] as const;
export type HoldingClock = (typeof HOLDING_CLOCKS)[number];

export interface ClockLimit {
  readonly clock: HoldingClock;
  readonly minutes: number;
}

/** What has happened so far, each an instant with its offset. A composite is collected when it is complete. */
export interface SampleTimes {
  readonly collectedAt?: string;
  readonly filteredAt?: string;
  readonly preservedAt?: string;
  readonly extractedAt?: string;
  readonly analysedAt?: string;
}

/**
 * `not-started`: its first step is not told. `running`: its last is not; whether it has run out is for who knows the time
 * to say. `before-start`: the steps are told in the wrong order, so that one of them is wrong.
 */
export type ClockState = 'not-started' | 'running' | 'in-time' | 'late' | 'before-start';

export interface ClockReading {
  readonly clock: HoldingClock;
  readonly limitMinutes: number;
  readonly startedAt: string | null;
  /** In UTC; null while it has not started. */
  readonly dueAt: string | null;
  readonly endedAt: string | null;
  readonly state: ClockState;
  /** Left at the end, below zero where it was late; null before the end. */
  readonly spareMinutes: number | null;
}

type Step = keyof SampleTimes;
const ENDS: Readonly<Record<HoldingClock, readonly [Step, Step]>> = {
  'collection-to-filtration': ['collectedAt', 'filteredAt'],
  'collection-to-preservation': ['collectedAt', 'preservedAt'],
  'collection-to-extraction': ['collectedAt', 'extractedAt'],
  'extraction-to-analysis': ['extractedAt', 'analysedAt'],
  'collection-to-analysis': ['collectedAt', 'analysedAt'],
};

function ended(
  start: Temporal.Instant,
  end: Temporal.Instant,
  limitMinutes: number,
): Pick<ClockReading, 'state' | 'spareMinutes'> {
  const took = minutesBetween(start, end);
  const state = took < 0 ? 'before-start' : took <= limitMinutes ? 'in-time' : 'late';
  return { state, spareMinutes: limitMinutes - took };
}

function clockReading({ clock, minutes }: ClockLimit, times: SampleTimes): ClockReading | Refusal {
  const [first, last] = ENDS[clock];
  const startedAt = times[first] ?? null;
  const endedAt = times[last] ?? null;
  const told = { clock, limitMinutes: minutes, startedAt, endedAt };
  if (startedAt === null) return { ...told, dueAt: null, state: 'not-started', spareMinutes: null };
  const dueAt = elapsedDeadline(startedAt, minutes);
  if (isRefusal(dueAt)) return dueAt;
  if (endedAt === null) return { ...told, dueAt, state: 'running', spareMinutes: null };
  const start = readInstant(first, startedAt);
  const end = readInstant(last, endedAt);
  if (isRefusal(start)) return start;
  if (isRefusal(end)) return end;
  return { ...told, dueAt, ...ended(start, end, minutes) };
}

/**
 * Each limit of a sample with its own deadline and state: an extraction in time does not make up for a late analysis.
 * Exactly at a limit is in time.
 *
 * Source: US EPA, questions and answers on SW-846, snapshot of 19 Jan 2021 (separate limits to and from extraction).
 *
 * @example holdingClocks([{ clock: 'collection-to-extraction', minutes: 10080 }], { collectedAt: '2026-05-04T10:00:00Z' })
 */
export function holdingClocks(limits: readonly ClockLimit[], times: SampleTimes): readonly ClockReading[] | Refusal {
  const readings: ClockReading[] = [];
  for (const limit of limits) {
    const reading = clockReading(limit, times);
    if (isRefusal(reading)) return reading;
    readings.push(reading);
  }
  return readings;
}
