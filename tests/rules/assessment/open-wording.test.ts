import { describe, expect, it } from 'vitest';
import type { StabilizationPlan } from '../../../src/protocol/event-plan.ts';
import { stabilizationPlan } from '../../../src/protocol/event-plan.ts';
import type { ReadingRecord } from '../../../src/rules/assessment/assessment-input.ts';
import { OPEN_WORDING } from '../../../src/rules/assessment/open-wording.ts';
import {
  assess,
  every5Min,
  later,
  level,
  occurrence,
  reading,
  STEADY,
  setUp,
  statusOf,
  well,
} from './purge-fixture.ts';

type Fields = ReadingRecord['fields'];

function rows(field: keyof Fields, values: readonly string[]) {
  return every5Min(values.map((value) => ({ [field]: value })));
}

function status(
  parameter: string,
  field: keyof Fields,
  values: readonly string[],
  plan: StabilizationPlan = {},
  criteria?: string,
) {
  return statusOf(assess({ readings: rows(field, values), plan, ...(criteria ? { criteria } : {}) }), parameter);
}

function optionsUsed(readings: readonly ReadingRecord[], plan: StabilizationPlan = {}): string[] {
  return assess({ readings, plan }).decisions.map(({ option, choice, from }) => `${option}: ${choice} (${from})`);
}

describe('what the guidance leaves open', () => {
  it('[A10] has an answer to each of the eighteen questions, and every option of a plan belongs to one', () => {
    expect(OPEN_WORDING).toHaveLength(18);
    const named = new Set(OPEN_WORDING.flatMap(({ options }) => options));
    expect([...named].sort()).toEqual(Object.keys(stabilizationPlan.shape).sort());
  });

  it('1. [A13] an absolute tolerance is a total spread for Region 1 and a band where it is "plus or minus"', () => {
    const ph = ['7.10', '7.18', '7.26'];
    expect(status('ph', 'ph', ph)).toBe('not-stable');
    expect(status('ph', 'ph', ph, { absoluteArithmetic: 'band' })).toBe('stable');
    expect(status('ph', 'ph', ph, { absoluteArithmetic: 'each-step' })).toBe('stable');
    expect(status('ph', 'ph', ph, {}, 'puls-and-barcelona-1996')).toBe('stable');
    expect(status('ph', 'ph', ph, { absoluteArithmetic: 'total-spread' }, 'puls-and-barcelona-1996')).toBe(
      'not-stable',
    );
    const chosen = assess({ readings: rows('ph', ph), plan: { absoluteArithmetic: 'band' } });
    expect(chosen.absoluteArithmetic).toEqual({ id: 'band', from: 'plan', why: "The event's plan says so" });
    expect(assess({ readings: rows('ph', ph) }).absoluteArithmetic).toMatchObject({ id: 'total-spread', from: 'set' });
  });

  it('1. [A12] a percentage is the range over the mean for Region 1 and a band where it is "plus or minus"', () => {
    const conductance = ['500', '510', '520'];
    const field = 'specificConductanceUsPerCm';
    expect(status('specific-conductance', field, conductance)).toBe('not-stable');
    expect(status('specific-conductance', field, conductance, {}, 'puls-and-barcelona-1996')).toBe('stable');
    expect(status('specific-conductance', field, conductance, { percentArithmetic: 'each-step-of-previous' })).toBe(
      'stable',
    );
  });

  it('2. [A1] 7.23 and 7.13 are within 0.1, and 7.24 and 7.13 are not', () => {
    expect(status('ph', 'ph', ['7.23', '7.13', '7.20'])).toBe('stable');
    expect(status('ph', 'ph', ['7.24', '7.13', '7.20'])).toBe('not-stable');
  });

  // Colorado state file, doc 794463, page 7: the last two agree within 0.1 only if rounded.
  it('3. [A11] readings are compared as entered, unless the plan rounds them first', () => {
    const ph = ['9.18', '9.21', '9.08'];
    expect(status('ph', 'ph', ph)).toBe('not-stable');
    const plan: StabilizationPlan = { parameters: { ph: { roundTo: '0.1' } } };
    expect(status('ph', 'ph', ph, plan)).toBe('stable');
    const rounded = assess({ readings: rows('ph', ph), plan });
    expect(rounded.parameters.find(({ parameter }) => parameter === 'ph')?.values).toEqual(['9.2', '9.2', '9.1']);
    expect(optionsUsed(rows('ph', ph), plan)).toContain('parameters: round-to (plan)');
    const whole = { parameters: { ph: { roundTo: '1' as const } } };
    expect(assess({ readings: rows('ph', ph), plan: whole }).parameters[1]?.values).toEqual(['9', '9', '9']);
  });

  // Colorado state file, doc 794463, page 7.
  it('3. [A12] the published case fails by every arithmetic: pH 9.29, 9.21, 9.08 with SC 252, 282, 335', () => {
    const readings = every5Min([
      { ph: '9.29', specificConductanceUsPerCm: '252' },
      { ph: '9.21', specificConductanceUsPerCm: '282' },
      { ph: '9.08', specificConductanceUsPerCm: '335' },
    ]);
    const result = assess({ readings });
    expect([statusOf(result, 'ph'), statusOf(result, 'specific-conductance')]).toEqual(['not-stable', 'not-stable']);
    expect(result.otherArithmetics).toEqual([]);
    expect(result.advice.map(({ code, parameter }) => [code, parameter])).toEqual([
      ['steps-growing', 'ph'],
      ['steps-growing', 'specific-conductance'],
    ]);
  });

  it('4. [A11] a percentage of temperature is taken in °C, whatever the meter shows', () => {
    // 3 % of 12 °C is 0.36 °C; 53.6 °F is 12 °C and 54.3 °F is 12.389 °C, though 0.7 °F is 1.3 % of 53.6 °F.
    const fahrenheit = (values: readonly string[]) =>
      values.map((temperatureF, index) => {
        const { temperatureC: _, ...others } = STEADY;
        return reading({ time: later(index * 300) }, { ...others, temperatureF });
      });
    const result = assess({ readings: fahrenheit(['53.6', '53.9', '54.3']) });
    expect(result.parameters[0]).toMatchObject({
      status: 'not-stable',
      unit: '°C',
      values: ['12.000', '12.167', '12.389'],
      compared: '3.20',
    });
    expect(statusOf(assess({ readings: fahrenheit(['53.6', '53.9', '54.2']) }), 'temperature')).toBe('stable');
    const freezing = assess({ readings: fahrenheit(['30', '30', '30']) }).parameters[0];
    expect(freezing).toMatchObject({ status: 'not-stable', values: ['-1.112', '-1.112', '-1.112'] });
    const [first, ...rest] = fahrenheit(['53.6', '53.6', '53.6']) as [ReadingRecord, ...ReadingRecord[]];
    const { temperatureF: _, ...others } = first.fields;
    const mixed = [{ ...first, fields: { ...others, temperatureC: '12.0' } }, ...rest];
    expect(assess({ readings: mixed }).parameters[0]).toMatchObject({ status: 'stable', compared: '0.00' });
  });

  it('4. [A12] no percentage of a temperature at or below 0 °C passes', () => {
    const result = assess({ readings: rows('temperatureC', ['0.0', '0.0', '0.0']) });
    expect(result.parameters[0]?.status).toBe('not-stable');
    expect(result.parameters[0]?.because).toContain('zero or less means nothing');
    expect(result.parameters[0]).not.toHaveProperty('compared');
    expect(statusOf(assess({ readings: rows('temperatureC', ['-0.5', '-0.5', '-0.5']) }), 'temperature')).toBe(
      'not-stable',
    );
  });

  it('5. [A14] readings on both sides of a low-value threshold must all be below it, unless the plan asks for their mean', () => {
    const oxygen = ['0.52', '0.49', '0.47'];
    expect(status('dissolved-oxygen', 'dissolvedOxygenMgPerL', oxygen)).toBe('not-stable');
    const plan: StabilizationPlan = { lowValueStraddle: 'window' };
    expect(status('dissolved-oxygen', 'dissolvedOxygenMgPerL', oxygen, plan)).toBe('low-value');
    expect(status('dissolved-oxygen', 'dissolvedOxygenMgPerL', ['0.55', '0.48', '0.45'], {})).toBe('not-stable');
    expect(status('dissolved-oxygen', 'dissolvedOxygenMgPerL', ['0.49', '0.30', '0.11'])).toBe('low-value');
    expect(optionsUsed(rows('dissolvedOxygenMgPerL', oxygen))).toContain('lowValueStraddle: each-reading (default)');
    expect(optionsUsed(rows('dissolvedOxygenMgPerL', oxygen), plan)).toContain('lowValueStraddle: window (plan)');
    const low = assess({ readings: rows('dissolvedOxygenMgPerL', oxygen), plan });
    expect(low.parameters[3]?.because).toBe('The mean of the window is below 0.5 mg/L, which counts as stable.');
  });

  it('6. [A14] a reading of exactly the threshold is not low, unless the plan says so', () => {
    const turbidity = ['5', '4.1', '3.2'];
    expect(status('turbidity', 'turbidityNtu', turbidity)).toBe('not-stable');
    expect(status('turbidity', 'turbidityNtu', turbidity, { lowValueEquality: 'low' })).toBe('low-value');
    expect(status('dissolved-oxygen', 'dissolvedOxygenMgPerL', ['0.5', '0.41', '0.3'])).toBe('not-stable');
    expect(status('dissolved-oxygen', 'dissolvedOxygenMgPerL', ['0.50', '0.50', '0.50'])).toBe('stable');
    expect(optionsUsed(rows('turbidityNtu', turbidity))).toContain('lowValueEquality: not-low (default)');
    const low = assess({ readings: rows('turbidityNtu', turbidity), plan: { lowValueEquality: 'low' } });
    expect(low.parameters[5]?.because).toBe('Every reading is not above 5 NTU, which counts as stable.');
  });

  // ASTM D6771-21, from memory: 10 % or 0.2 mg/L, whichever is greater.
  it('7. [A15] "whichever is greater" passes by either tolerance, and fails only by both', () => {
    const by = (values: readonly string[]) =>
      status('dissolved-oxygen', 'dissolvedOxygenMgPerL', values, {}, 'astm-d6771-21');
    expect(by(['0.90', '0.60', '0.75'])).toBe('stable');
    expect(by(['8.00', '8.50', '8.20'])).toBe('stable');
    expect(by(['2.00', '2.60', '2.30'])).toBe('not-stable');
  });

  it('8. [A10] a low, unsteady turbidity is judged as stability by sets without a low-value rule: no limit is a criterion', () => {
    expect(status('turbidity', 'turbidityNtu', ['1.0', '2.0', '3.0'], {}, 'puls-and-barcelona-1996')).toBe(
      'not-stable',
    );
    expect(status('turbidity', 'turbidityNtu', ['90', '91', '92'], {}, 'puls-and-barcelona-1996')).toBe('stable');
  });

  it('9. [A10] three readings are enough, unless the plan counts comparisons', () => {
    const three = every5Min([{}, {}, {}]);
    expect(assess({ readings: three }).stable).toBe(true);
    const plan: StabilizationPlan = { count: 'comparisons' };
    expect(assess({ readings: three, plan }).stable).toBe(false);
    expect(assess({ readings: every5Min([{}, {}, {}, {}]), plan }).firstHeldAt).toBe(later(900));
    expect(optionsUsed(three, plan)).toContain('count: comparisons (plan)');
  });

  it('10. [A24] all parameters are stable in the same window, unless the plan lets each have its own time', () => {
    const readings = every5Min([
      { turbidityNtu: '60' },
      { turbidityNtu: '45' },
      { turbidityNtu: '32' },
      { turbidityNtu: '31', ph: '7.30' },
      { turbidityNtu: '31', ph: '7.50' },
    ]);
    expect(assess({ readings }).stable).toBe(false);
    const plan: StabilizationPlan = { windows: 'own-time' };
    const own = assess({ readings, plan });
    expect(own.stable).toBe(true);
    expect(own.firstHeldAt).toBe(later(1_200));
    expect(own.parameters.find(({ parameter }) => parameter === 'ph')?.readings).toEqual(
      readings.slice(0, 3).map(({ id }) => id),
    );
    expect(optionsUsed(readings, plan)).toContain('windows: own-time (plan)');
    const restless = every5Min([{}, {}, {}, { ph: '7.5' }, { ph: '7.9' }, { ph: '8.4' }, { ph: '8.9' }]);
    expect(assess({ readings: restless, plan }).stable).toBe(true);
    const occurrences = [occurrence({ time: '10:11' }, 'cell-cleaned')];
    expect(statusOf(assess({ readings: restless, occurrences, plan }), 'ph')).toBe('not-stable');
    expect(assess({ readings: every5Min([{ ph: '7.0' }, { ph: '7.3' }, { ph: '7.6' }]), plan }).stable).toBe(false);
  });

  it('11. [A12] ORP may cross zero, and turbidity of zero or less passes by no percentage', () => {
    expect(status('orp', 'orpMv', ['-4', '0', '5'])).toBe('stable');
    expect(status('turbidity', 'turbidityNtu', ['0.0', '-0.1', '0.0'])).toBe('low-value');
    expect(status('turbidity', 'turbidityNtu', ['0.0', '0.0', '0.0'], {}, 'puls-and-barcelona-1996')).toBe(
      'not-stable',
    );
    const floor: StabilizationPlan = { parameters: { turbidity: { sensorFloor: '0.2' } } };
    expect(status('turbidity', 'turbidityNtu', ['0.0', '-0.1', '0.0'], floor, 'puls-and-barcelona-1996')).toBe(
      'stable',
    );
  });

  it('11. [A16] a spread below what the sensor resolves passes where the plan names the floor', () => {
    const oxygen = ['0.62', '0.58', '0.55'];
    const conductance = ['30', '31', '31'];
    expect(status('dissolved-oxygen', 'dissolvedOxygenMgPerL', oxygen)).toBe('not-stable');
    expect(status('specific-conductance', 'specificConductanceUsPerCm', conductance)).toBe('not-stable');
    const plan: StabilizationPlan = {
      parameters: { 'dissolved-oxygen': { sensorFloor: '0.2' }, 'specific-conductance': { sensorFloor: '1' } },
    };
    expect(status('dissolved-oxygen', 'dissolvedOxygenMgPerL', oxygen, plan)).toBe('stable');
    expect(status('specific-conductance', 'specificConductanceUsPerCm', conductance, plan)).toBe('stable');
    expect(status('specific-conductance', 'specificConductanceUsPerCm', ['30', '32', '31'], plan)).toBe('not-stable');
    expect(optionsUsed(rows('dissolvedOxygenMgPerL', oxygen), plan)).toContain('parameters: sensor-floor (plan)');
    const shown = assess({ readings: rows('dissolvedOxygenMgPerL', oxygen), plan }).parameters[3];
    expect(shown).toMatchObject({ tolerance: { rule: 'sensor-floor', limit: '0.2' }, compared: '0.07' });
    expect(shown?.because).toContain('the sensor does not resolve');
  });

  it('12. [A18] a condition that cannot be checked is reported, or keeps the well unstable where the plan says so', () => {
    const readings = every5Min([{}, {}, {}]);
    expect(assess({ readings }).stable).toBe(true);
    expect(assess({ readings }).conditions.interval.turnover).toBe('not-known');
    expect(optionsUsed(readings)).toContain('whenUnknown: reported (default)');
    const strict = assess({ readings, plan: { whenUnknown: 'not-stable' } });
    expect(strict.stable).toBe(false);
    expect(strict.missing).toEqual([
      'Flow cell: its volume or the flow is not recorded, so its turnover cannot be checked.',
    ]);
  });

  it('13. [A19] a steady level is reported beside the parameters, or required where the plan says so', () => {
    const sinking = every5Min([{ depthToWaterFt: '22.30' }, { depthToWaterFt: '22.40' }, { depthToWaterFt: '22.50' }]);
    const levels = [level({ time: '09:50' }, 'before-purge', '22.10')];
    const reported = assess({ readings: sinking, levels });
    expect(reported.stable).toBe(true);
    expect(reported.conditions.drawdown).toMatchObject({ status: 'not-steady', required: false, spreadFt: '0.20' });
    const plan: StabilizationPlan = { drawdown: { steady: 'required' } };
    const required = assess({ readings: sinking, levels, plan });
    expect(required.stable).toBe(false);
    expect(required.missing[0]).toMatch(/^Drawdown: .*moved by 0.20 ft/);
    expect(assess({ readings: every5Min([{}, {}, {}]), plan }).stable).toBe(true);
    const strict = assess({
      readings: every5Min([{}, {}, {}]),
      plan: { ...plan, whenUnknown: 'not-stable', turnover: 'not-required' },
    });
    expect(strict.missing).toEqual(['Drawdown: two pumping levels in the window are needed to see that it is steady.']);
    expect(
      assess({ readings: sinking, levels, plan: { drawdown: { steady: 'required', steadyWithinFt: '0.2' } } }).stable,
    ).toBe(true);
  });

  it('13. [A20] the minimum purge is reported, or required where the plan says so', () => {
    const purge = {
      readings: every5Min([{ purgedMl: '100' }, { purgedMl: '300' }, { purgedMl: '700', depthToWaterFt: '22.35' }]),
      levels: [level({ time: '09:50' }, 'before-purge' as const, '22.10')],
      setUps: [setUp({ time: '09:55' }, { tubingInsideDiameterIn: '0.25', tubingLengthFt: '60' })],
      well: well({ casingInsideDiameterIn: '2.00' }),
    };
    const reported = assess(purge);
    expect(reported.stable).toBe(true);
    expect(reported.conditions.minimumPurge).toMatchObject({
      status: 'not-met',
      requiredMl: '733.6',
      purgedMl: '700.0',
    });
    expect(reported.advice.map(({ code }) => code)).toContain('minimum-purge');
    const required = assess({ ...purge, plan: { minimumPurge: 'required' } });
    expect(required.stable).toBe(false);
    expect(required.missing[0]).toMatch(/^Minimum purge: 700.0 mL were drawn, not more than/);
    const { setUps: _, ...unknown } = purge;
    expect(assess({ ...unknown, plan: { minimumPurge: 'required' } }).stable).toBe(true);
    const strict = assess({
      ...unknown,
      plan: { minimumPurge: 'required', whenUnknown: 'not-stable', turnover: 'not-required' },
    });
    expect(strict.missing[0]).toMatch(/^Minimum purge: Not computed; it needs: inside diameter of the tubing/);
  });

  it('14. [A17] a reading that lacks a parameter is skipped for that parameter, or restarts it where the plan says so', () => {
    const gap = every5Min([{}, {}, {}, {}]).map((record, index) => {
      if (index !== 2) return record;
      const { turbidityNtu: _, ...fields } = record.fields;
      return { ...record, fields };
    });
    const skipped = assess({ readings: gap });
    expect(skipped.stable).toBe(true);
    expect(skipped.parameters[5]?.readings).toEqual([gap[0], gap[1], gap[3]].map((one) => one?.id));
    expect(skipped.parameters[1]?.readings).toEqual([gap[1], gap[2], gap[3]].map((one) => one?.id));
    expect(optionsUsed(gap)).toContain('missing: skip (default)');
    const broken = assess({ readings: gap, plan: { missing: 'break' } });
    expect(broken.stable).toBe(false);
    expect(broken.missing).toEqual(['Turbidity: 1 of 3 readings have a value that counts.']);
  });

  it('14. [A17] a parameter that was not read with one of the latest two readings of the window is missing', () => {
    const fields = (index: number) => {
      const { turbidityNtu, ...others } = STEADY;
      return index < 3 && turbidityNtu ? { ...others, turbidityNtu } : others;
    };
    const readings = [0, 1, 2, 3, 4].map((index) => reading({ time: later(index * 300) }, fields(index)));
    expect(statusOf(assess({ readings: readings.slice(0, 4) }), 'turbidity')).toBe('stable');
    const stale = assess({ readings });
    expect(stale.parameters[5]).toMatchObject({
      status: 'missing',
      values: [],
      because: 'It was not read with the latest readings of the window.',
    });
    expect(stale.stable).toBe(false);
  });

  it('14. [A17] a figure over the range of the meter restarts its parameter, or is skipped where the plan says so', () => {
    const readings = every5Min([{}, {}, { turbidityNtu: '1000', overRange: ['turbidityNtu'] }, {}, {}]);
    const broken = assess({ readings });
    expect(broken.parameters[5]).toMatchObject({ status: 'over-range', values: ['8.2', '8.2'] });
    expect(broken.missing).toEqual([
      'Turbidity: The meter was over its range. 2 of 3 readings have a value that counts.',
    ]);
    expect(optionsUsed(readings)).toContain('overRange: break (default)');
    expect(statusOf(broken, 'ph')).toBe('stable');
    expect(assess({ readings, plan: { overRange: 'skip' } }).stable).toBe(true);
  });

  it('14. [A11] a figure that no meter can show is taken as over range', () => {
    for (const ph of ['10000000', '-10000000', '999999999.999999']) {
      expect(status('ph', 'ph', ['7.10', '7.10', ph])).toBe('over-range');
    }
    expect(status('ph', 'ph', ['9999999', '9999999', '9999999'])).toBe('stable');
  });

  it('14. [A17] turbidity in NTU and in FNU is never one window', () => {
    const { turbidityNtu: _, ...others } = STEADY;
    const units = (names: readonly ('turbidityNtu' | 'turbidityFnu')[]) =>
      names.map((name, index) => reading({ time: later(index * 300) }, { ...others, [name]: '8.2' }));
    const changed = assess({ readings: units(['turbidityNtu', 'turbidityNtu', 'turbidityFnu', 'turbidityFnu']) });
    expect(changed.parameters[5]).toMatchObject({ status: 'missing', unit: 'FNU', values: ['8.2', '8.2'] });
    const all = assess({ readings: units(['turbidityNtu', 'turbidityFnu', 'turbidityFnu', 'turbidityFnu']) });
    expect(all.parameters[5]).toMatchObject({ status: 'stable', unit: 'FNU' });
  });

  it('15. [A2] the edition that the plan cites holds: turbidity 4.0, 3.0, 2.0 is low in 2017 and moves in 1996', () => {
    const turbidity = ['4.0', '3.0', '2.0'];
    expect(status('turbidity', 'turbidityNtu', turbidity, {}, 'epa-region-1-low-stress-rev-4')).toBe('low-value');
    expect(status('turbidity', 'turbidityNtu', turbidity, {}, 'epa-region-1-low-stress-rev-2')).toBe('not-stable');
  });

  it('[A2] a parameter that the plan calls advisory is judged and shown, and never keeps the well unstable', () => {
    const readings = rows('orpMv', ['-84', '-60', '-20']);
    expect(assess({ readings }).stable).toBe(false);
    const plan: StabilizationPlan = { parameters: { orp: { use: 'advisory' } } };
    const result = assess({ readings, plan });
    expect(result.stable).toBe(true);
    expect(result.parameters[4]).toMatchObject({ parameter: 'orp', status: 'not-stable', required: false });
    expect(optionsUsed(readings, plan)).toContain('parameters: advisory (plan)');
    const { orpMv: _, ...without } = STEADY;
    const unread = [0, 300, 600].map((second) => reading({ time: later(second) }, without));
    expect(assess({ readings: unread, plan }).stable).toBe(true);
    expect(assess({ readings: unread, plan: { parameters: { orp: { use: 'required' } } } }).stable).toBe(false);
  });
});
