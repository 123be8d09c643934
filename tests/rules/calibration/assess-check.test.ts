import { describe, expect, it } from 'vitest';
import type { CheckLimitSet } from '../../../src/catalog/calibration/check-limit-set.ts';
import { CHECK_LIMIT_SETS } from '../../../src/catalog/calibration/check-limit-sets.ts';
import { assessCheck } from '../../../src/rules/calibration/assess-check.ts';
import type { CheckStandard } from '../../../src/rules/calibration/check.ts';
import { assess, at, check, label } from './check-parts.ts';

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
