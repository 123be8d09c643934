import { isRefusal } from '../../science/refusal.ts';
import { atPlace } from '../../science/samples/instants.ts';

/** "2026-05-10 15:30 -05:00": by the clock on the wall of a place, with its offset then; as it was given where it cannot be. */
export function wallClock(instant: string, timeZone: string): string {
  const told = atPlace(instant, timeZone);
  if (isRefusal(told)) return instant;
  return `${told.slice(0, 10)} ${told.slice(11, 16)} ${told.slice(-6)}`;
}
