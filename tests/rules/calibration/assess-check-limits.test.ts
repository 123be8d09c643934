import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CheckLimitSetId } from '../../../src/catalog/calibration/check-limit-sets.ts';
import { assess, at, label } from './check-parts.ts';

describe('what cannot be judged', () => {
  it.each([
    ['ph', undefined, at('7.00'), 'what the meter showed is not written'],
    ['ph', '7.1', {}, 'give the buffer by its recipe'],
    ['ph', '7.1', { buffer: 'technical-700' }, 'give the buffer by its recipe'],
    ['ph', '7.1', { buffer: 'technical-700', temperatureC: '55' }, 'from 0 to 40 °C'],
    ['ph', 'low', at('7.00'), '"low"'],
    ['ph', '7.1', at('seven'), '"seven"'],
    ['specific-conductance', '1400', {}, 'what the label says, at 25 °C'],
    [
      'specific-conductance',
      '1000',
      { conductanceShown: 'raw', nominal: '1413' },
      'conductivity standard and its temperature',
    ],
    [
      'specific-conductance',
      '1000',
      { conductanceShown: 'raw', conductivityStandard: 'bottled-1413', temperatureC: '60' },
      '35 °C',
    ],
    ['dissolved-oxygen', '9', {}, 'pressure at the station or the altitude'],
    ['dissolved-oxygen', '9', { stationPressureMmHg: '700' }, 'pressure at the station or the altitude'],
    ['dissolved-oxygen', '9', { temperatureC: '20', stationPressureMmHg: '30' }, '30 mmHg'],
    ['dissolved-oxygen', '9', { temperatureC: '50', stationPressureMmHg: '700' }, '50 °C'],
    ['dissolved-oxygen', '9', { temperatureC: '20', altitudeM: '0', specificConductanceUsPerCm: '80000' }, '80000'],
    ['orp', '230', {}, 'reference electrode with its filling'],
    [
      'orp',
      '230',
      { zobell: 'linear', referenceElectrode: 'silver-chloride-3-molar' },
      'reference electrode with its filling',
    ],
    ['orp', '230', { zobell: 'linear', temperatureC: '20' }, 'reference electrode with its filling'],
    [
      'orp',
      '230',
      { zobell: 'linear', referenceElectrode: 'silver-chloride-3-molar', temperatureC: '5' },
      'outside 10 to 30',
    ],
    [
      'orp',
      '230',
      { zobell: 'nordstrom-1977', referenceElectrode: 'silver-chloride-3-molar', temperatureC: '5' },
      'from 10 to 30',
    ],
    ['turbidity', '20', {}, 'what its label says'],
  ] as const)('%s %s in %j', (parameter, reading, standard, says) => {
    const result = assess('usgs-field-manual', parameter, reading, standard);
    expect(result.outcome).toBe('cannot-tell');
    expect(result.sentence).toContain(says);
    expect(result.standardValue).toBeNull();
  });

  it.each([
    ['florida-field-testing', 'zero-oxygen', '0.1', {}, 'names no limit for it'],
    ['florida-field-testing', 'turbidity', '10.5', label('10.5'), 'no limit for a standard of 10.5'],
    ['florida-field-testing', 'turbidity', '40.2', label('40.5'), 'no limit for a standard of 40.5'],
    ['florida-field-testing', 'turbidity', '0.0', label('0'), 'no limit for a standard of 0'],
    ['epa-region-1-field-calibration', 'turbidity', '0.0', label('0.0'), 'no limit for a standard of 0.0'],
  ] as const)('%s says nothing of %s %s in %j', (set, parameter, reading, standard, says) => {
    const result = assess(set, parameter, reading, standard, {}, { turbidityUnit: 'NTU' });
    expect(result.outcome).toBe('no-limit');
    expect(result.sentence).toContain(says);
  });

  it('temperature has no table: the reference thermometer is the standard', () => {
    expect(assess('usgs-field-manual', 'temperature', '15.1', label('15.0')).outcome).toBe('pass');
    expect(assess('usgs-field-manual', 'temperature', '15.1', {}, { basis: 'at-temperature' }).sentence).toContain(
      'no table',
    );
  });

  it('a label alone is enough where the plan compares with labels', () => {
    const result = assess('usgs-field-manual', 'ph', '7.05', { buffer: 'technical-700' }, { basis: 'nominal' });
    expect(result).toMatchObject({ outcome: 'pass', standardValue: '7.00' });
    const wrong = assess('usgs-field-manual', 'dissolved-oxygen', '9', {}, { basis: 'nominal' });
    expect(wrong.sentence).toContain('what its label says');
  });

  it('an unreadable label beside a value that counts does no harm', () => {
    const standard = { nominal: 'seven', valueAtTemperature: '7.00' };
    expect(assess('usgs-field-manual', 'ph', '7.05', standard)).toMatchObject({ outcome: 'pass', cautions: [] });
  });
});

describe('property', () => {
  const hundredths = fc.integer({ min: 1, max: 100_000 }).map((value) => (value / 100).toFixed(2));

  it('a reading nearer to the standard on the same side never fares worse', () => {
    const set = fc.constantFrom<CheckLimitSetId>(
      'epa-region-1-field-calibration',
      'usgs-field-manual',
      'epa-region-4-field-measurement',
    );
    fc.assert(
      fc.property(set, hundredths, hundredths, fc.integer({ min: 0, max: 99 }), (id, standard, reading, share) => {
        const far = assess(id, 'specific-conductance', reading, label(standard)).outcome;
        const near = ((Number(reading) * share + Number(standard) * (100 - share)) / 100).toFixed(4);
        if (far === 'pass') expect(assess(id, 'specific-conductance', near, label(standard)).outcome).toBe('pass');
      }),
    );
  });

  it('agrees with the same sums in whole hundredths', () => {
    fc.assert(
      fc.property(hundredths, hundredths, (standard, reading) => {
        const [s, r] = [BigInt(standard.replace('.', '')), BigInt(reading.replace('.', ''))];
        const off = s > r ? s - r : r - s;
        const passes = off * 100n <= s * 5n || off <= 1_000n;
        const outcome = assess(
          'epa-region-1-field-calibration',
          'specific-conductance',
          reading,
          label(standard),
        ).outcome;
        expect(outcome).toBe(passes ? 'pass' : 'fail');
      }),
    );
  });
});
