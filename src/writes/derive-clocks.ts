import type { StampedClock } from '../protocol/record.ts';
import { NOTED_DIFFERENCE_MS } from '../rules/clock-correction.ts';
import type { Derived } from '../rules/derive/derived.ts';
import { flagDerived, flagId } from '../rules/derive/flag-derived.ts';
import { deviceClockFlag } from '../rules/flags/device-clock-flag.ts';
import type { Held, World } from '../rules/held.ts';
import type { ClockDay } from '../store/write/device-clocks.ts';
import type { Fresh } from './fresh.ts';

const MINUTE_MS = 60_000;

/** How far the device's own zone is from UTC, as its wall clock says. */
function offsetMs(wall: string): number {
  const [, sign, hours, minutes] = /([+-])(\d\d):(\d\d)$/.exec(wall) ?? [];
  const size = (Number(hours ?? 0) * 60 + Number(minutes ?? 0)) * MINUTE_MS;
  return sign === '-' ? -size : size;
}

/** The day at the place of the device: the crew's working day does not end at midnight in UTC. */
function dayOf(clock: StampedClock): string {
  const truth = Date.parse(clock.wall) + clock.differenceMs;
  return new Date(truth + offsetMs(clock.wall)).toISOString().slice(0, 10);
}

/** Days on which a device of this group showed a clock that was off by more than is noted. */
export function clockDays(fresh: readonly Fresh[]): ClockDay[] {
  const days = new Map<string, ClockDay>();
  for (const { batch, clock } of fresh) {
    const { device } = batch.actor;
    if (!device || !clock || Math.abs(clock.differenceMs) <= NOTED_DIFFERENCE_MS) continue;
    const day = dayOf(clock);
    const known = days.get(`${device} ${day}`) ?? { leastMs: clock.differenceMs, mostMs: clock.differenceMs };
    const leastMs = Math.min(known.leastMs, clock.differenceMs);
    const mostMs = Math.max(known.mostMs, clock.differenceMs);
    days.set(`${device} ${day}`, { device, day, leastMs, mostMs });
  }
  return [...days.values()];
}

/** The flag of a day is one of many of its device, so its id says which day. */
export function clockFlagId(firm: string, day: ClockDay): string {
  return flagId(firm, `device-clock-off ${day.day}`, day.device);
}

/** The notes about clocks, beside the devices that they are about. */
export function deviceClockFlags(firm: string, days: readonly ClockDay[], world: World): Derived[] {
  return days.flatMap((day) => {
    const device: Held | undefined = world.get(day.device);
    const clocks = [{ differenceMs: day.leastMs }, { differenceMs: day.mostMs }];
    const flag = deviceClockFlag({ device: day.device, day: day.day, clocks });
    if (!device || !flag) return [];
    return [flagDerived(firm, flag, { subject: device, visit: null, id: clockFlagId(firm, day) }, world)];
  });
}
