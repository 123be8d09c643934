import { describe, expect, it } from 'vitest';
import type { z } from 'zod';
import { conductivityStandard } from '../../../src/rules/questions/conductivity-standard.ts';
import { orpCheckSolution } from '../../../src/rules/questions/orp-check-solution.ts';
import { orpToEh } from '../../../src/rules/questions/orp-to-eh.ts';
import { oxygenSaturation } from '../../../src/rules/questions/oxygen-saturation.ts';
import { phBuffer } from '../../../src/rules/questions/ph-buffer.ts';
import { phSlope } from '../../../src/rules/questions/ph-slope.ts';
import { purgePlausibility } from '../../../src/rules/questions/purge-plausibility.ts';
import type { Question } from '../../../src/rules/questions/question.ts';
import { specificConductance } from '../../../src/rules/questions/specific-conductance.ts';
import { stationPressure } from '../../../src/rules/questions/station-pressure.ts';
import { turbidityReport } from '../../../src/rules/questions/turbidity-report.ts';

function ask<Input extends z.ZodObject, Output extends z.ZodObject>(question: Question<Input, Output>, given: unknown) {
  const answer = question.answer(question.input.parse(given));
  expect(question.output.parse(answer)).toEqual(answer);
  return answer;
}

describe('oxygen saturation', () => {
  it('by a barometer, with percent in both meanings', () => {
    // 7.440 mg/L at 20 °C and 625 mmHg (Benson and Krause, computed).
    const answer = ask(oxygenSaturation, {
      temperatureC: '20.0',
      stationPressureMmHg: '625',
      dissolvedOxygenMgPerL: '3.72',
    });
    expect(answer).toMatchObject({
      saturationMgPerL: '7.44',
      saturationAtOneAtmMgPerL: '9.09',
      ofLocalPercent: '50.0',
      ofOneAtmPercent: '40.9',
      stationPressureMmHg: '625.0',
      salinity: '0.00',
      refused: null,
    });
  });

  it('by the altitude says that weather moves it', () => {
    const answer = ask(oxygenSaturation, { temperatureC: '20.0', altitudeFt: '5000' });
    expect(answer).toMatchObject({ stationPressureMmHg: '632.4', saturationMgPerL: '7.53', ofLocalPercent: null });
    expect(answer.cautions[0]).toContain('weather');
  });

  it('by the older basis says so', () => {
    const given = { temperatureC: '20.0', stationPressureMmHg: '760' };
    expect(ask(oxygenSaturation, { ...given, basis: 'weiss-usgs-1981' })).toMatchObject({ saturationMgPerL: '9.07' });
    expect(ask(oxygenSaturation, { ...given, basis: 'weiss-usgs-1981' }).cautions[0]).toContain('older basis');
    expect(ask(oxygenSaturation, { ...given, basis: 'benson-and-krause' }).cautions[0]).not.toContain('older basis');
  });

  it('takes salinity from the conductance or by itself, never both', () => {
    const given = { temperatureC: '20.0', stationPressureMmHg: '760' };
    expect(ask(oxygenSaturation, { ...given, salinity: '9' })).toMatchObject({ saturationMgPerL: '8.62' });
    expect(ask(oxygenSaturation, { ...given, specificConductanceUsPerCm: '10000' })).toMatchObject({
      salinity: '5.77',
    });
    expect(ask(oxygenSaturation, { ...given, salinity: '9', specificConductanceUsPerCm: '1' }).refused).toContain(
      'Both',
    );
  });

  it.each([
    [{ temperatureC: '20' }, 'Neither the pressure'],
    [{ temperatureC: '20', stationPressureMmHg: '1013' }, '1013 mmHg'],
    [{ temperatureC: '50', stationPressureMmHg: '760' }, '50 °C'],
    [{ temperatureC: '20', stationPressureMmHg: '760', specificConductanceUsPerCm: '70000' }, '70000'],
    [{ temperatureC: '20', stationPressureMmHg: '760', dissolvedOxygenMgPerL: '-1' }, '-1 mg/L'],
  ])('refuses %j', (given, says) => {
    expect(ask(oxygenSaturation, given)).toMatchObject({
      saturationMgPerL: null,
      refused: expect.stringContaining(says),
    });
  });
});

describe('station pressure', () => {
  it('catches a pressure reduced to sea level, with what it does to oxygen', () => {
    const answer = ask(stationPressure, { stationPressureInHg: '29.92', altitudeFt: '5000' });
    expect(answer).toMatchObject({
      kind: 'reduced-to-sea-level',
      standardPressureMmHg: '632.4',
      ifReducedMmHg: '632.3',
    });
    // 9.092 less 7.530 mg/L at 20 °C.
    expect(Number(answer.saturationErrorMgPerL)).toBeCloseTo(1.56, 1);
    expect(answer.cautions).toHaveLength(1);
  });

  it('lets a pressure of the station pass', () => {
    expect(ask(stationPressure, { stationPressureMmHg: '640', altitudeM: '1524' })).toMatchObject({
      kind: 'station',
      cautions: [],
    });
    expect(ask(stationPressure, { stationPressureMmHg: '758', altitudeFt: '50' }).kind).toBe('low-ground');
  });

  it('says where the size cannot tell', () => {
    const answer = ask(stationPressure, { stationPressureHpa: '993', altitudeFt: '1000' });
    expect(answer.kind).toBe('cannot-tell');
    expect(answer.reasons[0]).toContain('read a barometer');
  });

  it('gives no error where the pressure of the station would be none', () => {
    expect(ask(stationPressure, { stationPressureMmHg: '400', altitudeM: '4900' })).toMatchObject({
      kind: 'station',
      saturationErrorMgPerL: null,
    });
  });

  it('without a pressure gives that of the standard atmosphere', () => {
    expect(ask(stationPressure, { altitudeFt: '1000' })).toMatchObject({
      kind: 'not-given',
      standardPressureMmHg: '732.9',
      ifReducedMmHg: null,
    });
  });

  it.each([
    [{ stationPressureMmHg: '700' }, 'altitude of the well is not given'],
    [{ altitudeFt: '1', altitudeM: '1' }, 'ft and m'],
    [{ altitudeM: '9000' }, '9000 m'],
    [{ altitudeM: '100', stationPressureMmHg: '700', stationPressureInHg: '27' }, 'mmHg and inHg'],
    [{ altitudeM: '100', stationPressureMmHg: '30' }, '30 mmHg'],
  ])('refuses %j', (given, says) => {
    expect(ask(stationPressure, given).refused).toContain(says);
  });
});

describe('specific conductance', () => {
  it('by three methods side by side', () => {
    const { results } = ask(specificConductance, { temperatureC: '10.0', conductivityUsPerCm: '500' });
    expect(results.map(({ resultUsPerCm }) => resultUsPerCm)).toEqual(['700.8', '714.3', '714.0']);
  });

  it('and back to what was measured', () => {
    const { results } = ask(specificConductance, { temperatureC: '10.0', specificConductanceUsPerCm: '714' });
    expect(results.map(({ resultUsPerCm }) => resultUsPerCm)).toEqual(['509.4', '499.8', '500.0']);
  });

  it('leaves out a method that does not reach, and says where ISO 7888 is meant for', () => {
    const { results, cautions } = ask(specificConductance, { temperatureC: '38', conductivityUsPerCm: '5000' });
    expect(results.map(({ resultUsPerCm }) => resultUsPerCm === null)).toEqual([false, false, true]);
    expect(results[2]?.refused).toContain('5 to 35.9');
    expect(cautions[0]).toContain('60 to 1,000');
    expect(ask(specificConductance, { temperatureC: '20', conductivityUsPerCm: '20' }).cautions[0]).toContain(
      '60 to 1,000',
    );
    expect(ask(specificConductance, { temperatureC: '20', conductivityUsPerCm: '200' }).cautions).toHaveLength(1);
  });

  it.each([
    [{ temperatureC: '10' }, 'not both and not neither'],
    [{ temperatureC: '10', conductivityUsPerCm: '1', specificConductanceUsPerCm: '1' }, 'not both and not neither'],
    [{ temperatureC: '60', conductivityUsPerCm: '500' }, 'No method'],
    [{ temperatureC: '10', conductivityUsPerCm: '-5' }, 'No method'],
  ])('refuses %j', (given, says) => {
    expect(ask(specificConductance, given).refused).toContain(says);
  });
});

describe('a conductivity standard', () => {
  it('at 35 °C has 1,694 and names the table that is wrong', () => {
    const answer = ask(conductivityStandard, { standard: 'bottled-1413', temperatureC: '35' });
    expect(answer).toMatchObject({ conductivityUsPerCm: '1694', at25UsPerCm: '1413', verified: false });
    expect(answer.cautions[0]).toContain('1,667');
  });

  it('shows something else than its label in a meter that compensates, away from 25 °C', () => {
    const answer = ask(conductivityStandard, { standard: 'bottled-1413', temperatureC: '10' });
    expect(answer.compensated.map(({ showsUsPerCm }) => showsUsPerCm)).toEqual(['1425', '1453', '1452']);
    const near = ask(conductivityStandard, { standard: 'bottled-1413', temperatureC: '25' });
    expect(near.compensated.every(({ showsUsPerCm }) => showsUsPerCm === '1413')).toBe(true);
  });

  it('by the kilogram was read in its source', () => {
    expect(ask(conductivityStandard, { standard: 'potassium-chloride-01-molal', temperatureC: '18' })).toMatchObject({
      conductivityUsPerCm: '11140.6',
      verified: true,
    });
  });

  it('is refused beyond its table', () => {
    expect(ask(conductivityStandard, { standard: 'bottled-12880', temperatureC: '36' }).refused).toContain('35 °C');
  });
});

describe('a pH buffer', () => {
  it('is known by its recipe', () => {
    expect(ask(phBuffer, { buffer: 'technical-700', temperatureC: '10' })).toMatchObject({ ph: '7.06', label: '7.00' });
    expect(ask(phBuffer, { buffer: 'phosphate-686', temperatureC: '10' })).toMatchObject({ ph: '6.92', label: '6.86' });
    expect(ask(phBuffer, { buffer: 'technical-700', temperatureC: '10' }).cautions[0]).toContain('bottle in hand');
    expect(ask(phBuffer, { buffer: 'borax-918', temperatureC: '10' }).cautions).toHaveLength(1);
  });

  it('is refused beyond its table', () => {
    expect(ask(phBuffer, { buffer: 'technical-1001', temperatureC: '10' }).refused).toContain('from 20 to 40 °C');
  });
});

describe('the slope of an electrode', () => {
  const slope = (secondMv: string) =>
    ask(phSlope, { temperatureC: '25', firstPh: '7.00', firstMv: '0', secondPh: '4.00', secondMv });

  it('is judged by each limit, exactly at it within', () => {
    expect(slope('172')).toMatchObject({ slopeMvPerPh: '57.33', nernstMvPerPh: '59.16', percentOfNernst: '96.9' });
    expect(slope('172').limits.map(({ isWithin }) => isWithin)).toEqual([true, true]);
    expect(slope('160').limits.map(({ isWithin }) => isWithin)).toEqual([false, true]);
    expect(slope('150').limits.map(({ isWithin }) => isWithin)).toEqual([false, false]);
    expect(slope('190').limits.map(({ isWithin }) => isWithin)).toEqual([false, true]);
    expect(slope('168.606').limits[0]?.isWithin).toBe(true);
  });

  it('is refused for one buffer twice', () => {
    const answer = ask(phSlope, { temperatureC: '25', firstPh: '7', firstMv: '0', secondPh: '7', secondMv: '1' });
    expect(answer.refused).toContain('1 pH apart');
  });
});

describe('ORP and Eh', () => {
  // Computed: +150 mV at 15 °C is +364 against 3.3 mol/L and +359 against the saturated electrode.
  it.each([
    ['silver-chloride-3-3-molar', '364'],
    ['silver-chloride-saturated', '359'],
  ])('+150 mV at 15 °C against %s is Eh +%s', (referenceElectrode, ehMv) => {
    expect(ask(orpToEh, { orpMv: '150', referenceElectrode, temperatureC: '15.0' })).toMatchObject({
      ehMv,
      verified: false,
    });
  });

  it('without electrode or temperature there is no Eh', () => {
    expect(ask(orpToEh, { orpMv: '150' }).refused).toContain(
      'the reference electrode with its filling and the temperature',
    );
    expect(ask(orpToEh, { orpMv: '150', temperatureC: '15' }).refused).toContain('without the reference electrode');
    expect(ask(orpToEh, { orpMv: '150', referenceElectrode: 'silver-chloride-saturated' })).toMatchObject({
      ehMv: null,
      refused: expect.stringContaining('without the temperature'),
    });
  });

  it('beyond the table there is none either', () => {
    const given = { orpMv: '150', referenceElectrode: 'silver-chloride-saturated', temperatureC: '5' };
    expect(ask(orpToEh, given).refused).toContain('from 10 to 30 °C');
  });

  it('warns of the instrument table headed 3 mol/L', () => {
    const given = { orpMv: '150', referenceElectrode: 'silver-chloride-instrument-table-3-molar', temperatureC: '25' };
    expect(ask(orpToEh, given)).toMatchObject({ ehMv: '357', verified: true });
    expect(ask(orpToEh, given).cautions[0]).toContain('3.3 mol/L');
  });
});

describe('the ORP check solution', () => {
  // Nordstrom less the field manual's electrode, computed.
  it.each([
    ['10', '250', '253'],
    ['15', '241', '246'],
    ['20', '233', '239'],
    ['25', '223', '231'],
    ['30', '215', '224'],
  ])('at %s °C should read %s mV against 3.3 mol/L and %s against saturated', (temperatureC, molar, saturated) => {
    const by = (referenceElectrode: string) =>
      ask(orpCheckSolution, { referenceElectrode, temperatureC }).expected.find(
        ({ table }) => table === 'nordstrom-1977',
      );
    expect(Math.round(Number(by('silver-chloride-3-3-molar')?.orpMv)).toString()).toBe(molar);
    expect(Math.round(Number(by('silver-chloride-saturated')?.orpMv)).toString()).toBe(saturated);
  });

  it('gives every form that is known there, each by its name', () => {
    const { expected } = ask(orpCheckSolution, { referenceElectrode: 'silver-chloride-3-molar', temperatureC: '10' });
    expect(expected.map(({ table, orpMv, verified }) => [table, orpMv, verified])).toEqual([
      ['nordstrom-1977', '247.2', false],
      ['standard-methods-2580', '241', false],
      ['linear', '241.0', false],
    ]);
  });

  it('adds the instrument table of the 4 mol/L electrode, also where the electrode itself is not known', () => {
    const at25 = ask(orpCheckSolution, { referenceElectrode: 'silver-chloride-4-molar', temperatureC: '25' });
    expect(at25.expected).toHaveLength(3);
    expect(at25.expected[1]).toMatchObject({ table: 'standard-methods-2580', orpMv: '228', verified: true });
    expect(at25.reasons.at(-1)).toContain('228.0 mV');
    const at15 = ask(orpCheckSolution, { referenceElectrode: 'silver-chloride-4-molar', temperatureC: '15' });
    expect(at15).toMatchObject({ expected: [], refused: null });
    expect(at15.reasons[0]).toContain('241.0 mV');
  });

  it('refuses where electrode or solution is not known, and says which', () => {
    const of = (referenceElectrode: string, temperatureC: string) =>
      ask(orpCheckSolution, { referenceElectrode, temperatureC }).refused;
    expect(of('silver-chloride-3-molar', '5')).toContain('from 10 to 30 °C');
    expect(of('silver-chloride-4-molar', '35')).toContain('at 25 °C only');
    expect(
      ask(orpCheckSolution, {
        referenceElectrode: 'silver-chloride-instrument-table-3-molar',
        temperatureC: '40',
      }).cautions.at(-1),
    ).toContain('3.3 mol/L');
  });

  it('carries the usual caution for cyanides', () => {
    const { cautions } = ask(orpCheckSolution, { referenceElectrode: 'silver-chloride-3-molar', temperatureC: '20' });
    expect(cautions.join(' ')).toContain('never into acid');
  });
});

describe('turbidity', () => {
  it('is reported in its step and unit', () => {
    expect(ask(turbidityReport, { turbidity: '7.23', unit: '[NTU]' })).toMatchObject({
      reported: '7.2',
      step: '0.1',
      unit: 'NTU',
    });
    expect(ask(turbidityReport, { turbidity: '62', unit: '[NTU]' }).cautions[0]).toContain('40 NTU');
    expect(ask(turbidityReport, { turbidity: '62', unit: '[FNU]' }).cautions[0]).toContain('published for NTU');
  });

  it('never stands beside another unit', () => {
    expect(ask(turbidityReport, { turbidity: '7', unit: '[NTU]', besideUnit: '[FNU]' }).refused).toContain(
      'never mixed',
    );
    expect(ask(turbidityReport, { turbidity: '7', unit: '[FNU]', besideUnit: '[FNU]' }).reported).toBe('7.0');
    expect(ask(turbidityReport, { turbidity: '7', unit: 'mV' }).refused).toContain('no unit of turbidity');
    expect(ask(turbidityReport, { turbidity: '-7', unit: '[NTU]' }).refused).toContain('below zero');
  });
});

describe('plausibility of a purge', () => {
  const reading = { id: '10:05', temperatureC: '15.0', dissolvedOxygenMgPerL: '11.9', orpMv: '-182' };

  it('gives findings with their figures', () => {
    const answer = ask(purgePlausibility, { readings: [reading], stationPressureMmHg: '700' });
    expect(answer.findings.map(({ code }) => code)).toEqual(['oxygen-above-saturation', 'oxygen-with-negative-orp']);
    expect(answer.reasons[0]).toContain('2 things are');
    expect(answer.cautions).toEqual([]);
  });

  it('says what it could not ask without the pressure', () => {
    const answer = ask(purgePlausibility, { readings: [{ id: '10:05', ph: '7.0' }] });
    expect(answer).toMatchObject({
      findings: [],
      reasons: [expect.stringMatching(/^These readings do not contradict each other/)],
    });
    expect(answer.cautions[0]).toContain('Without the pressure');
  });

  it('takes the compensation of the meters', () => {
    const of = (meter: string, specificConductanceUsPerCm: string) => ({
      id: meter,
      meter,
      temperatureC: '10',
      specificConductanceUsPerCm,
    });
    const answer = ask(purgePlausibility, {
      readings: [of('a', '700.8'), of('b', '714.3')],
      altitudeFt: '100',
      compensations: [
        { meter: 'a', method: 'alpha-0191' },
        { meter: 'b', method: 'alpha-0200' },
      ],
    });
    expect(answer.findings[0]).toMatchObject({ code: 'conductance-method-changed', certainty: 'sure' });
    expect(answer.reasons[0]).toContain('1 thing is');
  });

  it('refuses a pressure that is none', () => {
    expect(ask(purgePlausibility, { readings: [reading], stationPressureMmHg: '30' }).refused).toContain('30 mmHg');
  });
});
