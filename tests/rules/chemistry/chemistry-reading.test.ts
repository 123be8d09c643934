import { describe, expect, it } from 'vitest';
import type { ReadingRecord } from '../../../src/rules/assessment/assessment-input.ts';
import { chemistryReadings } from '../../../src/rules/chemistry/chemistry-reading.ts';

function record(id: string, at: string, fields: Partial<ReadingRecord['fields']>, voided = false): ReadingRecord {
  const observed = { at, entered: at, captured: 'at-the-well', readBy: 'a', writtenBy: 'a' } as const;
  return {
    kind: 'reading',
    id,
    rev: 1,
    voided: voided ? { reason: 'wrong well', by: null } : null,
    by: null,
    client: null,
    mutation: null,
    reason: null,
    clock: null,
    fields: { purge: 'purge', observed, ...fields },
  };
}

describe('readings for the rules of chemistry', () => {
  it('come earliest first, without voided ones', () => {
    const records = [
      record('b', '2026-05-04T10:10:00-05:00', { ph: '7.02' }),
      record('a', '2026-05-04T10:05:00-05:00', { ph: '7.01' }),
      record('c', '2026-05-04T10:15:00-05:00', { ph: '9.99' }, true),
    ];
    expect(chemistryReadings(records).map(({ id, ph }) => [id, ph])).toEqual([
      ['a', '7.01'],
      ['b', '7.02'],
    ]);
  });

  it('leave out figures that mark the end of a range', () => {
    const [reading] = chemistryReadings([
      record('a', '2026-05-04T10:05:00-05:00', {
        dissolvedOxygenPercent: '999',
        overRange: ['dissolvedOxygenPercent'],
      }),
    ]);
    expect(reading?.dissolvedOxygenPercent).toBeNull();
    expect(reading?.ph).toBeNull();
  });

  it('bring degrees Fahrenheit to Celsius with no digit that was not read', () => {
    const at = '2026-05-04T10:05:00-05:00';
    const of = (fields: Partial<ReadingRecord['fields']>) =>
      chemistryReadings([record('a', at, fields)])[0]?.temperatureC;
    expect(of({ temperatureF: '59.0' })).toBe('15.00');
    expect(of({ temperatureF: '59.0', temperatureC: '14.9' })).toBe('14.9');
    expect(of({ temperatureF: 'warm' })).toBeNull();
    expect(of({ temperatureF: '999', overRange: ['temperatureF'] })).toBeNull();
  });

  it('keep which meter read them', () => {
    const [reading] = chemistryReadings([record('a', '2026-05-04T10:05:00-05:00', { meter: 'meter' })]);
    expect(reading?.meter).toBe('meter');
  });
});
