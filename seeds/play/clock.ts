import { Temporal } from 'temporal-polyfill';
import type { DeviceTime } from '../../src/client/device-time.ts';

/** An instant as a device writes it, to the second and with the offset of the zone: 2026-10-13T08:10:00-05:00. */
export function stamp(ms: number, zone: string): string {
  return Temporal.Instant.fromEpochMilliseconds(Math.floor(ms / 1_000) * 1_000).toString({ timeZone: zone });
}

/** Milliseconds since 1970 of a time of day, "08:10" or "08:10:30", on a date in a zone. */
export function instantOf(date: string, time: string, zone: string): number {
  const civil = Temporal.PlainDateTime.from(`${date}T${time}`);
  return civil.toZonedDateTime(zone, { disambiguation: 'reject' }).epochMilliseconds;
}

/** The true time of the play, which the server's clock shows too. It stands still but for what passes in the play. */
export class WorldClock {
  #nowMs: number;
  /** Once the play is over, the time of day runs on from there with that of the machine. */
  #machineMs: (() => number) | null = null;
  #wentOnAtMs = 0;

  constructor(startMs: number) {
    this.#nowMs = startMs;
  }

  get nowMs(): number {
    return this.#machineMs === null ? this.#nowMs : this.#nowMs + this.#machineMs() - this.#wentOnAtMs;
  }

  now(): Date {
    return new Date(this.nowMs);
  }

  pass(ms: number): void {
    this.#nowMs += ms;
  }

  /** Time never goes back: who asks for an earlier one is late, and goes on at once. */
  moveTo(ms: number): void {
    this.#nowMs = Math.max(this.#nowMs, ms);
  }

  goOn(machineMs: () => number): void {
    this.#machineMs = machineMs;
    this.#wentOnAtMs = machineMs();
  }
}

/** The clocks of one phone: the wall clock may be wrong, the monotonic one counts from the boot. */
export class PhoneClock implements DeviceTime {
  readonly #world: WorldClock;
  readonly #zone: string;
  #bootedAtMs: number;
  #boots = 1;
  /** By how much the wall clock is ahead of the true time. */
  aheadMs: number;

  constructor(world: WorldClock, zone: string, aheadMs: number) {
    this.#world = world;
    this.#zone = zone;
    this.aheadMs = aheadMs;
    this.#bootedAtMs = world.nowMs - 60_000;
  }

  get boot(): string {
    return `boot-${this.#boots}`;
  }

  restart(): void {
    this.#boots += 1;
    this.#bootedAtMs = this.#world.nowMs;
  }

  wallMs(): number {
    return this.#world.nowMs + this.aheadMs;
  }

  wall(): string {
    return stamp(this.wallMs(), this.#zone);
  }

  monotonicMs(): number {
    return this.#world.nowMs - this.#bootedAtMs;
  }
}
