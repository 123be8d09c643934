import { describe, expect, it } from 'vitest';
import { codes, find, type Part } from './purge-parts.ts';

describe('a change of compensation', () => {
  const at = (specificConductanceUsPerCm: string, meter: string | null = null) => ({
    temperatureC: '10.0',
    specificConductanceUsPerCm,
    meter,
  });

  it('is sure where the meters are known to differ', () => {
    const found = find([at('700.8', 'a'), at('714.3', 'b')], {}, [
      ['a', 'alpha-0191'],
      ['b', 'alpha-0200'],
    ]);
    expect(found[0]).toMatchObject({
      code: 'conductance-method-changed',
      certainty: 'sure',
      readings: ['reading 1', 'reading 2'],
    });
    expect(found[0]?.sentence).toContain('by 1.9 %');
    expect(found[0]?.numbers).toContainEqual({ name: 'step', value: '1.9', unit: '%' });
  });

  it('is sure without a temperature too, and then names no size', () => {
    const [finding] = find(
      [
        { ...at('700', 'a'), temperatureC: null },
        { ...at('714', 'b'), temperatureC: null },
      ],
      {},
      [
        ['a', 'alpha-0191'],
        ['b', 'natural-water'],
      ],
    );
    expect(finding?.sentence).not.toContain('alone moves');
  });

  it('is suspected where steady readings make one step of just that size', () => {
    const found = find([at('700'), at('701'), at('714'), at('715')]);
    expect(found[0]).toMatchObject({
      code: 'conductance-method-changed',
      certainty: 'likely',
      readings: ['reading 2', 'reading 3'],
    });
    expect(found[0]?.sentence).toContain('1.91 % per °C to linear, 2.00 % per °C');
  });

  it.each([
    ['another size', ['700', '701', '730', '731']],
    ['a drift', ['690', '700', '714', '728']],
    ['nothing after it', ['700', '701', '714']],
    ['nothing steady before it', ['714', '700', '714', '714']],
    ['a conductance of zero', ['0', '0', '714', '714']],
  ])('is not suspected in %s', (_what, values) => {
    expect(find(values.map((value) => at(value)))).toEqual([]);
  });

  it('is not suspected near 25 °C, where the methods agree, nor without a temperature', () => {
    const warm = ['700', '701', '714', '715'].map((value) => ({ ...at(value), temperatureC: '24.5' }));
    expect(find(warm)).toEqual([]);
    expect(find(warm.map((one) => ({ ...one, temperatureC: null })))).toEqual([]);
    expect(find(warm.map((one) => ({ ...one, temperatureC: '44' })))).toEqual([]);
  });

  it('leaves a change of meter alone where both compensate alike, or one is unknown', () => {
    const swapped = [at('700', 'a'), at('705', 'b')];
    expect(
      find(swapped, {}, [
        ['a', 'alpha-0191'],
        ['b', 'alpha-0191'],
      ]),
    ).toEqual([]);
    expect(find(swapped, {}, [['a', 'alpha-0191']])).toEqual([]);
  });
});

describe('a stuck sensor', () => {
  const moving = (figures: Part, count: number): Part[] =>
    Array.from({ length: count }, (_, at) => ({
      dissolvedOxygenMgPerL: (6 - 0.7 * at).toFixed(2),
      orpMv: String(150 - 30 * at),
      ...figures,
    }));

  it('is asked about where it repeats its figure while the water changes', () => {
    const [finding] = find(moving({ ph: '7.12' }, 6));
    expect(finding).toMatchObject({ code: 'stuck-sensor', certainty: 'likely', verified: false });
    expect(finding?.sentence).toContain('pH shows 7.12 in 6 readings in a row while dissolved oxygen and ORP moved');
    expect(finding?.readings).toHaveLength(6);
  });

  it.each([
    ['five readings', moving({ ph: '7.12' }, 5)],
    ['a coarse figure', moving({ ph: '7.1' }, 8)],
    ['oxygen at rest at zero', moving({ dissolvedOxygenMgPerL: '0.00', ph: '7.0' }, 8)],
    ['one other that moves', moving({ ph: '7.12', orpMv: null }, 8)],
    ['steady water', Array.from({ length: 8 }, (_, at) => ({ ph: '7.12', orpMv: String(100 + at) }))],
  ])('is not asked about with %s', (_what, parts) => {
    expect(find(parts)).toEqual([]);
  });

  it('is not carried over a change of meter, and skips readings without the figure', () => {
    const swapped = moving({ ph: '7.12' }, 8).map((part, at) => ({ ...part, meter: at < 4 ? 'a' : 'b' }));
    expect(find(swapped)).toEqual([]);
    const gaps = moving({ ph: '7.12' }, 7).map((part, at) => (at === 3 ? { ...part, ph: null } : part));
    expect(find(gaps)[0]?.readings).toHaveLength(6);
  });

  it('names temperature and pH among those that moved', () => {
    const parts = Array.from({ length: 6 }, (_, at) => ({
      specificConductanceUsPerCm: '1412',
      temperatureC: (14 + at / 2).toFixed(1),
      ph: (7 + at / 10).toFixed(2),
    }));
    expect(find(parts)[0]?.sentence).toContain('while temperature and pH moved');
  });
});

describe('lines that repeat', () => {
  const line = { temperatureC: '14.52', ph: '7.01', specificConductanceUsPerCm: '611', dissolvedOxygenMgPerL: '0.91' };

  it('are asked about when three are equal in four parameters', () => {
    const found = find([{ ...line, ph: '7.02' }, line, line, line]);
    expect(found[0]).toMatchObject({ code: 'repeated-lines', readings: ['reading 2', 'reading 3', 'reading 4'] });
    expect(found[0]?.sentence).toContain('equal in all 4 parameters');
  });

  it('are left alone when two are equal, or in three parameters only', () => {
    expect(find([line, line, { ...line, ph: '7.02' }])).toEqual([]);
    const short = { ...line, dissolvedOxygenMgPerL: null };
    expect(find([short, short, short, short])).toEqual([]);
  });

  it('are one finding and not one a sensor', () => {
    expect(codes(find(Array.from({ length: 8 }, () => line)))).toEqual(['repeated-lines']);
  });
});
