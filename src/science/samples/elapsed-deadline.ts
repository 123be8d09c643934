import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { readInstant } from './instants.ts';

/**
 * When a clock that counts elapsed time runs out: a limit of 48 h is 48 h, also over the night when clocks are set
 * forward, and 6 months are 180 days.
 *
 * Source: 40 CFR 136.3, Table II, footnotes 2 and 4, from memory (the time begins at collection); US EPA, questions and
 * answers on SW-846, snapshot of 19 Jan 2021 (180 days).
 *
 * @param startedAt instant with its offset
 * @returns the instant in UTC; `atPlace` tells it by the clock of the site
 * @example elapsedDeadline('2025-03-08T14:00:00-05:00', 2880) // '2025-03-10T19:00:00Z', which is 15:00 there
 */
export function elapsedDeadline(startedAt: string, limitMinutes: number): string | Refusal {
  const start = readInstant('The start', startedAt);
  if (isRefusal(start)) return start;
  if (!(Number.isInteger(limitMinutes) && limitMinutes >= 0))
    return refuse(`A limit of ${limitMinutes} minutes is none: give whole minutes, 0 or more.`);
  return start.add({ minutes: limitMinutes }).toString();
}
