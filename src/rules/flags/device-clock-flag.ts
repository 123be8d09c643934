import type { StampedClock } from '../../protocol/record.ts';
import { NOTED_DIFFERENCE_MS } from '../clock-correction.ts';
import type { FlagRuleEntry } from './flag-rule.ts';
import { countText } from './list-text.ts';
import type { RaisedFlag } from './raised-flag.ts';

export const DEVICE_CLOCK_RULE: FlagRuleEntry = {
  code: 'device-clock-off',
  title: 'The clock of a device is off by more than ten minutes',
  severity: 'note',
  addressee: 'office',
  source: 'Common practice, no source',
  verified: false,
};

export interface DeviceDay {
  /** The client id of the device. */
  readonly device: string;
  /** Calendar date: 2026-05-04. */
  readonly day: string;
  /** What the server measured with each push of that day. */
  readonly clocks: readonly Pick<StampedClock, 'differenceMs'>[];
}

export interface DeviceClockFlag extends RaisedFlag {
  /** Part of the identity: once a device and day. */
  readonly day: string;
}

function hoursAndMinutes(ms: number): string {
  const minutes = Math.floor(ms / 60_000);
  const hours = Math.floor(minutes / 60);
  const rest = countText(minutes % 60, 'minute');
  return hours === 0 ? rest : `${countText(hours, 'hour')} ${rest}`;
}

/**
 * Noted once a device and day, by the largest difference of the day, whatever the order of the pushes. Times stay as
 * they were entered; to the minute, so that the note is not rewritten with every push.
 */
export function deviceClockFlag({ device, day, clocks }: DeviceDay): DeviceClockFlag | undefined {
  const largest = clocks.reduce((most, clock) => Math.max(most, Math.abs(clock.differenceMs)), 0);
  if (largest <= NOTED_DIFFERENCE_MS) return undefined;
  const behind = clocks.some((clock) => clock.differenceMs === largest);
  const shows = `${hoursAndMinutes(largest)} ${behind ? 'behind' : 'ahead'}`;
  return {
    rule: DEVICE_CLOCK_RULE.code,
    subjectKind: 'device',
    subject: device,
    day,
    severity: DEVICE_CLOCK_RULE.severity,
    addressee: DEVICE_CLOCK_RULE.addressee,
    sentence: `On ${day} the clock of this device was ${shows}. Its times stand as entered; set the clock.`,
    evidence: [{ record: device, field: 'clock', shows: `${day}: ${shows}` }],
    standing: 'raised',
  };
}
