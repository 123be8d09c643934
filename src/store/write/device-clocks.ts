import type { WriteTx } from './transaction.ts';

/** The span of clock differences that a device showed on a day: server time minus device time, in ms. */
export interface ClockDay {
  readonly device: string;
  readonly day: string;
  readonly leastMs: number;
  readonly mostMs: number;
}

/**
 * Widens what is known of each device and day.
 *
 * @param days each device and day once
 * @returns the same days, with what was known before
 */
export async function widenClockDays(tx: WriteTx, days: readonly ClockDay[]): Promise<ClockDay[]> {
  if (days.length === 0) return [];
  const column = <Key extends keyof ClockDay>(key: Key) => days.map((day) => day[key]);
  const { rows } = await tx.client.query<ClockDay>({
    name: 'widen-clock-days',
    text: `insert into device_clock as known (firm, device, day, least_ms, most_ms)
select $1, d.device, d.day, d.least_ms, d.most_ms
from unnest($2::uuid[], $3::date[], $4::bigint[], $5::bigint[]) as d(device, day, least_ms, most_ms)
on conflict (firm, device, day) do update set least_ms = least(known.least_ms, excluded.least_ms),
  most_ms = greatest(known.most_ms, excluded.most_ms)
returning device, day, least_ms as "leastMs", most_ms as "mostMs"`,
    values: [tx.firm, column('device'), column('day'), column('leastMs'), column('mostMs')],
  });
  return rows;
}

/** Every day on which the clock of one of these devices was off. */
export async function clockDaysOfDevices(tx: WriteTx, devices: readonly string[]): Promise<ClockDay[]> {
  if (devices.length === 0) return [];
  const { rows } = await tx.client.query<ClockDay>({
    name: 'clock-days-of-devices',
    text: `select device, day, least_ms as "leastMs", most_ms as "mostMs" from device_clock
where firm = $1 and device = any($2::uuid[])`,
    values: [tx.firm, devices],
  });
  return rows;
}
