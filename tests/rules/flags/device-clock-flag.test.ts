import { describe, expect, it } from 'vitest';
import { flag } from '../../../src/protocol/kinds/flag.ts';
import { deviceClockFlag } from '../../../src/rules/flags/device-clock-flag.ts';
import { evidenceHash } from '../../../src/rules/flags/evidence.ts';

const device = '00000000-0000-7000-8000-0000000000aa';
const day = '2026-05-04';
const MINUTE = 60_000;
const flagOf = (...differences: number[]) =>
  deviceClockFlag({ device, day, clocks: differences.map((differenceMs) => ({ differenceMs })) });

describe('the clock of a device', () => {
  it('is not noted up to ten minutes, nor without a push', () => {
    expect(flagOf()).toBeUndefined();
    expect(flagOf(10 * MINUTE, -10 * MINUTE, 0)).toBeUndefined();
  });

  it('is noted once a day for the office, by its largest difference, in any order', () => {
    const noted = flagOf(182 * MINUTE, 11 * MINUTE, 0);
    expect(noted).toMatchObject({
      rule: 'device-clock-off',
      subjectKind: 'device',
      subject: device,
      day,
      severity: 'note',
      addressee: 'office',
      standing: 'raised',
      sentence:
        'On 2026-05-04 the clock of this device was 3 hours 2 minutes behind. Its times stand as entered; set the clock.',
    });
    expect(flagOf(0, 182 * MINUTE + 20_000, 11 * MINUTE)).toEqual(noted);
  });

  it('says ahead and behind', () => {
    expect(flagOf(-(10 * MINUTE + 1))?.sentence).toContain('10 minutes ahead');
    expect(flagOf(61 * MINUTE)?.sentence).toContain('1 hour 1 minute behind');
  });

  it('fits the record of a flag', () => {
    const { day: _, ...fields } = flagOf(61 * MINUTE) ?? { day, evidence: [] };
    expect(flag.fields.safeParse({ ...fields, evidenceHash: evidenceHash(fields.evidence) }).success).toBe(true);
  });
});
