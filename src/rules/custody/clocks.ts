import { CUSTODY_RULES } from '../../catalog/analytes/custody-rules.ts';
import { figureOf } from '../../catalog/analytes/rule-figure.ts';
import { instantMs } from '../../science/instant-ms.ts';
import { isRefusal } from '../../science/refusal.ts';
import { atPlace } from '../../science/samples/instants.ts';

/** By how much two clocks may differ, in minutes. */
export const CLOCKS_DIFFER_MIN = Number(figureOf(CUSTODY_RULES.clocksDiffer, 'clocks-differ-by'));
/** By how much a clock may be off that nobody measured. */
export const UNMEASURED_MS = CLOCKS_DIFFER_MIN * 60_000;

export function minutesFrom(from: string, until: string): number {
  return (instantMs(until) - instantMs(from)) / 60_000;
}

/** Whether one instant is after another by more than two clocks may differ. */
export function isAfter(one: string, other: string): boolean {
  return minutesFrom(other, one) > CLOCKS_DIFFER_MIN;
}

function local(at: string, timeZone: string | null): string {
  const told = timeZone === null ? at : atPlace(at, timeZone);
  return isRefusal(told) ? at : told;
}

/** "2026-05-04", by the calendar of the site; without one, as it was entered. */
export function dayOf(at: string, timeZone: string | null): string {
  return local(at, timeZone).slice(0, 10);
}

/** "2026-05-04 10:05", by the clock of the site; without one, as it was entered. */
export function timeText(at: string, timeZone: string | null): string {
  return local(at, timeZone).slice(0, 16).replace('T', ' ');
}

/** "45 min", "13.5 h". */
export function spanText(minutes: number): string {
  const whole = Math.round(minutes);
  return whole < 120 ? `${whole} min` : `${Math.round(minutes / 6) / 10} h`;
}
