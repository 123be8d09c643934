/** The clocks of the device. They are asked at each capture and each push, and never trusted for order. */
export interface DeviceTime {
  /** The wall clock with its offset: 2026-05-04T10:05:00-05:00. */
  wall(): string;
  /** Milliseconds since a start that is fixed within one boot. */
  monotonicMs(): number;
  /** Names the boot; a new one after every restart of the device. */
  readonly boot: string;
}
