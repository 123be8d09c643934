import { describe, expect, it } from 'vitest';
import type { StabilizationPlan } from '../../../src/protocol/event-plan.ts';
import type { ReadingRecord } from '../../../src/rules/assessment/assessment-input.ts';
import { assess, every5Min, idOf, later, reading, STEADY, statusOf } from './purge-fixture.ts';

type Fields = ReadingRecord['fields'];

const FLORIDA = 'florida-fs-2200-2017';
const REGION_4 = 'epa-region-4-low-flow-2013';

function of(criteria: string, parameter: string, rows: readonly Partial<Fields>[], plan: StabilizationPlan = {}) {
  const result = assess({ criteria, readings: every5Min(rows), plan });
  const judged = result.parameters.find((one) => one.parameter === parameter);
  if (!judged) throw new Error(`${parameter} is not judged`);
  return judged;
}

function oxygen(mgPerL: readonly (string | undefined)[], percent: readonly (string | undefined)[]): Partial<Fields>[] {
  const field = (name: keyof Fields, value: string | undefined) => (value === undefined ? {} : { [name]: value });
  return mgPerL.map((value, at) => {
    const { dissolvedOxygenMgPerL: _, ...rest } = STEADY;
    return { ...rest, ...field('dissolvedOxygenMgPerL', value), ...field('dissolvedOxygenPercent', percent[at]) };
  });
}

function oxygenOf(criteria: string, rows: readonly Partial<Fields>[], plan: StabilizationPlan = {}) {
  const readings = rows.map((row, index) => reading({ time: later(index * 300) }, row));
  // what must be drawn is not recorded here
  const result = assess({ criteria, readings, plan: { whenUnknown: 'reported', ...plan } });
  const judged = result.parameters.find((one) => one.parameter === 'dissolved-oxygen');
  if (!judged) throw new Error('dissolved oxygen is not judged');
  return { ...judged, result };
}

describe('an upper limit', () => {
  // FS 2200, Jan 2017, from memory: at most 20 NTU, otherwise within 5 NTU or 10 %, whichever is greater.
  it.each([
    [['20.0', '5.0', '1.0'], 'low-value', 'at-most', '20.0'],
    [['20.1', '15.0', '10.1'], 'stable', 'absolute', '5.00'],
    [['200', '210', '220'], 'stable', 'percent', '9.10'],
    [['30.0', '20.1', '19.9'], 'not-stable', 'absolute', '5.05'],
  ])('[A26] of %j is %s by %s', (values, status, rule, compared) => {
    const judged = of(
      FLORIDA,
      'turbidity',
      values.map((turbidityNtu) => ({ turbidityNtu })),
    );
    expect(judged).toMatchObject({ status, tolerance: { rule }, compared });
  });

  it('[A26] says what stood against it', () => {
    const judged = of(FLORIDA, 'turbidity', [{ turbidityNtu: '20.0' }, {}, {}]);
    expect(judged.because).toBe('The largest reading is 20.0 NTU, within 20 NTU.');
  });

  it('[A26] of a plan must hold besides, whatever else passed', () => {
    const rows = ['8.2', '8.2', '8.3'].map((turbidityNtu) => ({ turbidityNtu }));
    const limited = (atMost: string, more: object = {}) =>
      of('puls-and-barcelona-1996', 'turbidity', rows, { parameters: { turbidity: { atMost, ...more } } });
    expect(limited('8.3')).toMatchObject({ status: 'stable', tolerance: { rule: 'percent' } });
    expect(limited('8.2')).toMatchObject({
      status: 'not-stable',
      tolerance: { rule: 'at-most', limit: '8.2', verified: true },
      because: 'The largest reading is 8.3 NTU, beyond 8.2 NTU.',
    });
    expect(limited('8.2', { sensorFloor: '1' })).toMatchObject({ status: 'not-stable' });
    const other = assess({
      criteria: 'puls-and-barcelona-1996',
      readings: every5Min(rows),
      plan: { parameters: { turbidity: { atMost: '8.2' } } },
    });
    expect(other.stable).toBe(false);
    expect(other.otherArithmetics).toEqual([]);
  });

  it('[A26] of a plan takes the place of that of the set', () => {
    const rows = ['95', '98', '101', '101'].map((turbidityNtu) => ({ turbidityNtu }));
    const id = 'air-base-well-development-2010';
    expect(of(id, 'turbidity', rows).status).toBe('not-stable');
    expect(of(id, 'turbidity', rows, { parameters: { turbidity: { atMost: '200' } } }).status).toBe('stable');
  });
});

describe('less than a tolerance', () => {
  // UFGS 02521 (seen): pH by less than 0.2, ORP by less than 10 mV.
  it('[A26] is not met exactly at it, and says so', () => {
    const ph = (values: readonly string[]) =>
      of(
        'ufgs-02521-well-development',
        'ph',
        values.map((value) => ({ ph: value })),
      );
    expect(ph(['7.10', '7.20', '7.30'])).toMatchObject({
      status: 'not-stable',
      compared: '0.20',
      because: 'Largest minus smallest is 0.20 pH, not less than 0.2 pH.',
    });
    expect(ph(['7.10', '7.20', '7.29']).because).toBe('Largest minus smallest is 0.19 pH, less than 0.2 pH.');
    const orp = of(
      'ufgs-02521-well-development',
      'orp',
      ['-84', '-80', '-74'].map((orpMv) => ({ orpMv })),
    );
    expect(orp.status).toBe('not-stable');
  });
});

describe('a tolerance in degrees Fahrenheit', () => {
  const id = 'county-casing-volume-protocol';
  const fahrenheit = (values: readonly string[]) => {
    const { temperatureC: _, ...rest } = STEADY;
    const readings = values.map((temperatureF, index) =>
      reading({ time: later(index * 300), id: idOf(`f ${index}`) }, { ...rest, temperatureF }),
    );
    return assess({ criteria: id, readings }).parameters[0];
  };

  it('[A26] is exact in ninths: 1.0 °F apart passes, 1.1 does not', () => {
    expect(fahrenheit(['53.7', '54.7'])).toMatchObject({
      status: 'stable',
      unit: '°C',
      compared: '1.000',
      tolerance: { rule: 'absolute', limit: '1.0', unit: '°F', verified: true },
      because: 'Largest minus smallest is 1.000 °F, within 1.0 °F.',
    });
    expect(fahrenheit(['53.7', '54.8'])).toMatchObject({ status: 'not-stable', compared: '1.100' });
  });

  it('[A26] is five ninths of a degree Celsius for a meter that shows those', () => {
    const celsius = (values: readonly string[]) =>
      of(
        id,
        'temperature',
        values.map((temperatureC) => ({ temperatureC })),
      );
    expect(celsius(['12.00', '12.55']).status).toBe('stable');
    expect(celsius(['12.00', '12.56'])).toMatchObject({ status: 'not-stable', compared: '1.008' });
  });
});

describe('dissolved oxygen in percent of saturation', () => {
  const jumping = ['2.0', '4.0', '3.0'];

  // FS 2200, Jan 2017, from memory: at most 20 % of saturation, otherwise within 10 % or 0.2 mg/L.
  it('[A26] is enough at or below 20 % by the Florida procedure, whatever mg/L do', () => {
    const low = oxygenOf(FLORIDA, oxygen(jumping, ['20.0', '11.2', '3.0']));
    expect(low).toMatchObject({ status: 'low-value', unit: '% saturation', values: ['20.0', '11.2', '3.0'] });
    expect(low.because).toBe('The largest reading is 20.0 % saturation, within 20 % saturation.');
    expect(low.result.stable).toBe(true);
    expect(low.result.firstHeldAt).toBeDefined();
  });

  it('[A26] falls back on mg/L where it is above, and shows those where neither is met', () => {
    const fine = oxygenOf(FLORIDA, oxygen(['0.30', '0.60', '0.70'], ['20.1', '20', '20']));
    expect(fine).toMatchObject({ status: 'stable', unit: 'mg/L', tolerance: { rule: 'absolute' } });
    const neither = oxygenOf(FLORIDA, oxygen(jumping, ['20.1', '20', '20']));
    expect(neither).toMatchObject({ status: 'not-stable', unit: 'mg/L', values: jumping });
    expect(neither.result.stable).toBe(false);
  });

  it('[A26] is judged alone where no meter read mg/L, and is missing where nothing was read', () => {
    const none = [undefined, undefined, undefined];
    expect(oxygenOf(FLORIDA, oxygen(none, ['12', '12', '11'])).status).toBe('low-value');
    expect(oxygenOf(FLORIDA, oxygen(none, ['31', '12', '11']))).toMatchObject({
      status: 'not-stable',
      unit: '% saturation',
    });
    const unread = oxygenOf(FLORIDA, oxygen(none, none));
    expect(unread).toMatchObject({ status: 'missing', unit: 'mg/L' });
    const short = (rows: readonly Partial<Fields>[]) => oxygenOf(FLORIDA, rows.slice(0, 2)).result.missing;
    expect(short(oxygen(none, none))).toContain('Dissolved oxygen: it was not read yet.');
    expect(short(oxygen(none, ['12', '12', '11']))).not.toContain('Dissolved oxygen: it was not read yet.');
  });

  // SESDPROC-301-R3, 2013, from memory: 0.2 mg/L or 10 % of saturation, whichever is greater; optional.
  it('[A26] within 10 of it is the greater of the two by Region 4, and is advisory unless the plan requires it', () => {
    expect(oxygenOf(REGION_4, oxygen(jumping, ['40.0', '45.0', '50.0']))).toMatchObject({
      status: 'stable',
      required: false,
      unit: '% saturation',
      compared: '10.0',
    });
    const rows = oxygen(jumping, ['40.0', '45.0', '50.1']);
    const advisory = oxygenOf(REGION_4, rows);
    expect([advisory.status, advisory.required, advisory.result.stable]).toEqual(['not-stable', false, true]);
    const required = oxygenOf(REGION_4, rows, { parameters: { 'dissolved-oxygen': { use: 'required' } } });
    expect([required.required, required.result.stable]).toEqual([true, false]);
  });

  it('[A8] is judged beside mg/L where another arithmetic is tried', () => {
    const rows = oxygen(['2.00', '2.21', '2.10'], ['40.0', '45.0', '50.1']);
    const plan: StabilizationPlan = { parameters: { 'dissolved-oxygen': { use: 'required' } } };
    const { result } = oxygenOf(REGION_4, rows, plan);
    const band = result.otherArithmetics.find(({ arithmetic }) => arithmetic === 'band');
    expect(band).toMatchObject({ stable: true, parameters: ['dissolved-oxygen'] });
    const either = oxygenOf(REGION_4, oxygen(['2.00', '2.10', '2.20'], ['40.0', '45.0', '50.1']), plan).result;
    expect(either.otherArithmetics).toEqual([]);
  });

  it('[A24] counts at its own time like any other', () => {
    const rows = oxygen([...jumping, '9.0', '5.0'], ['20', '20', '20', '31', '44']);
    const { status, result } = oxygenOf(FLORIDA, rows, { windows: 'own-time' });
    expect([status, result.stable]).toEqual(['low-value', true]);
    expect(statusOf(oxygenOf(FLORIDA, rows).result, 'dissolved-oxygen')).toBe('not-stable');
  });

  it('[A4] of another meter beside the one that reads mg/L is no swap', () => {
    const rows = [0, 1, 2].flatMap((index) => [
      reading({ time: later(index * 300) }, { ...STEADY, meter: idOf('A') }),
      reading({ time: later(index * 300 + 20) }, { dissolvedOxygenPercent: '12', meter: idOf('B') }),
    ]);
    expect(assess({ criteria: FLORIDA, readings: rows }).advice.map(({ code }) => code)).not.toContain('interrupted');
  });
});

describe('what only one branch could judge', () => {
  it('[A15] tries the tolerances of "or" in their order and reports the last where none is met', () => {
    const ohio = (values: readonly string[]) =>
      of(
        'ohio-chapter-10-2012',
        'turbidity',
        values.map((turbidityNtu) => ({ turbidityNtu })),
      );
    expect(ohio(['10.0', '2.0', '6.0'])).toMatchObject({ status: 'low-value', tolerance: { rule: 'at-most' } });
    expect(ohio(['40', '44', '48'])).toMatchObject({ status: 'stable', tolerance: { rule: 'percent' } });
    expect(ohio(['10.1', '2.0', '6.0'])).toMatchObject({ status: 'not-stable', tolerance: { rule: 'percent' } });
  });
});
