import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CheckLimitSet } from '../../../src/catalog/calibration/check-limit-set.ts';
import { CHECK_LIMIT_SETS, type CheckLimitSetId } from '../../../src/catalog/calibration/check-limit-sets.ts';
import { assessCheck } from '../../../src/rules/calibration/assess-check.ts';
import type { CalibrationCheck, CheckStandard } from '../../../src/rules/calibration/check.ts';
import type { CheckOptions } from '../../../src/rules/calibration/deviation.ts';
import { check } from './check-parts.ts';

function assess(
  set: CheckLimitSetId,
  parameter: CalibrationCheck['parameter'],
  reading: string | undefined,
  standard: CheckStandard,
  options: CheckOptions = {},
  more: Partial<CalibrationCheck> = {},
) {
  return assessCheck(CHECK_LIMIT_SETS[set], check('07:35', parameter, reading, standard, more), options);
}

const at = (valueAtTemperature: string): CheckStandard => ({ valueAtTemperature });
const label = (nominal: string): CheckStandard => ({ nominal });

describe('exactly at the limit passes, one digit more fails', () => {
  // Limits of the four documents (from memory).
  it.each([
    ['epa-region-1-field-calibration', 'ph', at('7.00'), '7.30', '7.31'],
    ['epa-region-1-field-calibration', 'specific-conductance', label('1413'), '1483.65', '1483.66'],
    ['epa-region-1-field-calibration', 'specific-conductance', label('100'), '110', '110.1'],
    ['epa-region-1-field-calibration', 'dissolved-oxygen', at('9.09'), '8.59', '8.58'],
    ['epa-region-1-field-calibration', 'orp', at('231'), '241', '242'],
    ['epa-region-1-field-calibration', 'turbidity', label('20'), '21', '21.1'],
    ['epa-region-1-field-calibration', 'zero-oxygen', {}, '0.49', '0.50'],
    ['epa-region-1-field-calibration', 'zero-oxygen', {}, '0.00', '-0.01'],
    ['epa-region-1-field-calibration', 'temperature', label('15.0'), '15.2', '15.3'],
    ['florida-field-testing', 'ph', at('7.00'), '6.80', '6.79'],
    ['florida-field-testing', 'specific-conductance', label('1000'), '950', '949'],
    ['florida-field-testing', 'dissolved-oxygen', at('9.09'), '9.39', '9.40'],
    ['florida-field-testing', 'turbidity', label('10'), '11', '11.1'],
    ['florida-field-testing', 'turbidity', label('0.1'), '0.11', '0.12'],
    ['florida-field-testing', 'turbidity', label('20'), '21.6', '21.7'],
    ['florida-field-testing', 'turbidity', label('100'), '106.5', '106.6'],
    ['florida-field-testing', 'turbidity', label('800'), '840', '841'],
    ['usgs-field-manual', 'ph', at('7.00'), '7.10', '7.11'],
    ['usgs-field-manual', 'specific-conductance', label('100'), '105', '105.1'],
    ['usgs-field-manual', 'specific-conductance', label('101'), '104.03', '104.04'],
    ['usgs-field-manual', 'zero-oxygen', {}, '0.2', '0.21'],
    ['usgs-field-manual', 'orp', at('223.3'), '228.3', '228.4'],
    ['usgs-field-manual', 'turbidity', label('1'), '1.5', '1.6'],
    ['usgs-field-manual', 'turbidity', label('100'), '105', '106'],
    ['epa-region-4-field-measurement', 'specific-conductance', label('1000'), '1100', '1101'],
    ['epa-region-4-field-measurement', 'ph', at('7.00'), '7.10', '7.11'],
    ['epa-region-4-field-measurement', 'temperature', label('15.0'), '15.5', '15.6'],
  ] as const)('%s, %s, %j: %s passes and %s fails', (set, parameter, standard, passing, failing) => {
    expect(assess(set, parameter, passing, standard).outcome).toBe('pass');
    expect(assess(set, parameter, failing, standard).outcome).toBe('fail');
  });

  it('is compared in decimal: 7.23 is within 0.1 of 7.13, though binary numbers say otherwise', () => {
    expect(7.23 - 7.13 > 0.1).toBe(true);
    expect(assess('usgs-field-manual', 'ph', '7.23', at('7.13')).outcome).toBe('pass');
  });
});

describe('which value of the standard', () => {
  const cold: CheckStandard = { buffer: 'technical-700', temperatureC: '10.0' };

  it('a buffer counts at its temperature: 7.25 passes against 7.06 and would have failed against its label', () => {
    const result = assess('florida-field-testing', 'ph', '7.25', cold);
    expect(result).toMatchObject({
      outcome: 'pass',
      standardValue: '7.06',
      basis: 'at-temperature',
      deviation: '0.19',
    });
    expect(result.cautions).toEqual(['Compared with 7.00 (pH buffer 7.00, technical, label) it would have failed.']);
  });

  it('the plan may ask for the label instead', () => {
    const result = assess('florida-field-testing', 'ph', '7.25', cold, { basis: 'nominal' });
    expect(result).toMatchObject({ outcome: 'fail', standardValue: '7.00', basis: 'nominal' });
    expect(result.cautions[0]).toContain('it would have passed');
  });

  it('conductance at 25 °C counts by its label, whatever the temperature', () => {
    const standard: CheckStandard = { conductivityStandard: 'bottled-1413', temperatureC: '10.0' };
    expect(assess('usgs-field-manual', 'specific-conductance', '1430', standard)).toMatchObject({
      outcome: 'pass',
      standardValue: '1413',
      basis: 'nominal',
      cautions: [],
    });
  });

  it('raw conductivity counts at the temperature: 1017 µS/cm at 10 °C is right', () => {
    const standard: CheckStandard = {
      conductivityStandard: 'bottled-1413',
      temperatureC: '10.0',
      conductanceShown: 'raw',
    };
    expect(assess('usgs-field-manual', 'specific-conductance', '1020', standard)).toMatchObject({
      outcome: 'pass',
      standardValue: '1017',
      basis: 'at-temperature',
    });
  });

  it('oxygen counts by saturation at the station', () => {
    const standard: CheckStandard = { temperatureC: '20.0', stationPressureMmHg: '640' };
    // 7.624 mg/L by Benson and Krause.
    expect(assess('florida-field-testing', 'dissolved-oxygen', '7.90', standard)).toMatchObject({
      outcome: 'pass',
      standardValue: '7.62',
    });
    const salty = { ...standard, specificConductanceUsPerCm: '20000' };
    expect(Number(assess('florida-field-testing', 'dissolved-oxygen', '7.3', salty).standardValue)).toBeLessThan(7.3);
  });

  it('ORP counts by the form of the solution that is named: 461 and 467 mV at 10 °C decide differently', () => {
    const orp = (zobell: 'nordstrom-1977' | 'standard-methods-2580') =>
      assess('usgs-field-manual', 'orp', '245', {
        zobell,
        referenceElectrode: 'silver-chloride-3-3-molar',
        temperatureC: '10',
      });
    expect(orp('nordstrom-1977')).toMatchObject({ outcome: 'fail', standardValue: '250.2' });
    expect(orp('standard-methods-2580')).toMatchObject({ outcome: 'pass', standardValue: '244' });
  });

  it('what the bottle says goes before the tables', () => {
    expect(assess('usgs-field-manual', 'ph', '7.05', { ...cold, valueAtTemperature: '7.04' })).toMatchObject({
      standardValue: '7.04',
    });
  });
});

describe('what a document leaves open', () => {
  it('of two figures the stricter counts where the set says so, and the answer tells', () => {
    const result = assess('epa-region-4-field-measurement', 'ph', '7.15', at('7.00'));
    expect(result.outcome).toBe('fail');
    expect(result.cautions).toContain(
      'There are two figures (the document names both figures): by the stricter one it fails, by the wider one it passes.',
    );
    expect(assess('epa-region-4-field-measurement', 'ph', '7.15', at('7.00'), { strictness: 'wider' }).outcome).toBe(
      'pass',
    );
  });

  it('the figure for water of low ionic strength counts only when asked for', () => {
    expect(assess('usgs-field-manual', 'ph', '7.08', at('7.00')).outcome).toBe('pass');
    expect(assess('usgs-field-manual', 'ph', '7.08', at('7.00'), { strictness: 'stricter' }).outcome).toBe('fail');
    expect(assess('usgs-field-manual', 'ph', '7.08', at('7.00')).cautions[0]).toContain('low ionic strength');
  });

  it('a percentage is of the standard, and the answer tells where that of the reading decides otherwise', () => {
    const result = assess('florida-field-testing', 'specific-conductance', '950', label('1000'));
    expect(result.outcome).toBe('pass');
    expect(result.allowed).toBe('within 5 % of the standard, 50.0');
    expect(result.cautions).toEqual(['With the percentage taken of the reading it would have failed.']);
    const other = assess('florida-field-testing', 'specific-conductance', '950', label('1000'), {
      percentOf: 'reading',
    });
    expect(other.outcome).toBe('fail');
    expect(other.cautions).toEqual(['With the percentage taken of the standard it would have passed.']);
  });
});

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

describe('the ORP solution', () => {
  const orp = (temperatureC: string | undefined, groundwater: string | undefined) => {
    const standard: CheckStandard = { valueAtTemperature: '231', temperatureC };
    return assessCheck(CHECK_LIMIT_SETS['usgs-field-manual'], check('07:35', 'orp', '231', standard), {}, groundwater)
      .cautions;
  };

  it('is questioned when it is more than 10 °C from the groundwater', () => {
    expect(orp('25.0', '14.9')).toEqual([
      'The ORP solution is 10.1 °C from the groundwater; within about 10 °C is asked (county file, doc 919545, page 235).',
    ]);
    expect(orp('25.0', '15.0')).toEqual([]);
    expect(orp(undefined, '15.0')).toEqual([]);
    expect(orp('25.0', undefined)).toEqual([]);
    expect(orp('warm', '15.0')).toEqual([]);
  });
});

describe('figures that were read in their document', () => {
  it('make a result verified; the recalled ones of the catalog do not', () => {
    const figure = { value: '0.2', verified: true, status: 'seen' } as const;
    const basis = { id: 'nominal', why: 'test' } as const;
    const set: CheckLimitSet = {
      ...CHECK_LIMIT_SETS['usgs-field-manual'],
      limits: [{ parameter: 'ph', tolerance: { rule: 'absolute', within: figure }, basis }],
    };
    expect(assessCheck(set, check('07:35', 'ph', '7.1', label('7.00'))).verified).toBe(true);
    expect(assess('usgs-field-manual', 'ph', '7.1', at('7.00')).verified).toBe(false);
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
