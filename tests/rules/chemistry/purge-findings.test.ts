import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ChemistryFinding } from '../../../src/rules/chemistry/chemistry-finding.ts';
import { CHEMISTRY_QUANTITIES, type ChemistryReading } from '../../../src/rules/chemistry/chemistry-reading.ts';
import type { CompensationMethod } from '../../../src/rules/chemistry/compensation.ts';
import { purgeFindings } from '../../../src/rules/chemistry/purge-findings.ts';
import { type StationGiven, stationAir } from '../../../src/rules/chemistry/station-air.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

type Part = Partial<Omit<ChemistryReading, 'id'>>;

const EMPTY = Object.fromEntries(CHEMISTRY_QUANTITIES.map((name) => [name, null])) as Omit<
  ChemistryReading,
  'id' | 'meter'
>;

function series(parts: readonly Part[]): ChemistryReading[] {
  return parts.map((part, at) => ({ id: `reading ${at + 1}`, meter: null, ...EMPTY, ...part }));
}

function find(
  parts: readonly Part[],
  station: StationGiven = {},
  compensations: readonly (readonly [string, CompensationMethod])[] = [],
): readonly ChemistryFinding[] {
  const air = stationAir(station);
  if (isRefusal(air)) throw new Error(air.refused);
  return purgeFindings({ readings: series(parts), air, compensations: new Map(compensations) });
}

const codes = (findings: readonly ChemistryFinding[]) => findings.map(({ code }) => code);

/** A purge as thousands are: everything settles, nothing is hard to believe. */
const ORDINARY: readonly Part[] = [
  ['15.2', '6.91', '640', '3.10', '122', '48'],
  ['14.8', '6.95', '622', '2.20', '101', '31'],
  ['14.6', '6.98', '615', '1.40', '84', '18'],
  ['14.5', '7.00', '612', '1.02', '71', '9.8'],
  ['14.5', '7.01', '612', '0.94', '66', '7.7'],
  ['14.5', '7.01', '611', '0.91', '63', '7.1'],
  ['14.5', '7.01', '611', '0.90', '62', '6.9'],
].map(([temperatureC, ph, specificConductanceUsPerCm, dissolvedOxygenMgPerL, orpMv, turbidityNtu]) => ({
  temperatureC: temperatureC ?? null,
  ph: ph ?? null,
  specificConductanceUsPerCm: specificConductanceUsPerCm ?? null,
  dissolvedOxygenMgPerL: dissolvedOxygenMgPerL ?? null,
  orpMv: orpMv ?? null,
  turbidityNtu: turbidityNtu ?? null,
}));

describe('an ordinary purge', () => {
  it('raises nothing, with and without the pressure', () => {
    expect(find(ORDINARY)).toEqual([]);
    expect(find(ORDINARY, { altitudeFt: '600' })).toEqual([]);
  });

  it('raises nothing where the readings say nothing', () => {
    expect(find([{}, {}, {}], { altitudeFt: '600' })).toEqual([]);
    expect(find([])).toEqual([]);
  });
});

describe('oxygen above saturation', () => {
  const wet = { temperatureC: '15.0', specificConductanceUsPerCm: '500' };

  it('is asked about with the figures it rests on', () => {
    const [finding] = find(
      [
        { ...wet, dissolvedOxygenMgPerL: '9.9' },
        { ...wet, dissolvedOxygenMgPerL: '11.90' },
      ],
      {
        stationPressureMmHg: '700',
      },
    );
    expect(finding).toMatchObject({ code: 'oxygen-above-saturation', certainty: 'likely', readings: ['reading 2'] });
    // 9.275 mg/L at 15 °C and 700 mmHg, less 0.03 for the salinity (Benson and Krause, computed).
    expect(finding?.sentence).toContain('9.26 mg/L');
    expect(finding?.numbers).toContainEqual({ name: 'ofSaturation', value: '129', unit: '%' });
  });

  it('allows a tenth above, for meters and for air that recharge trapped', () => {
    expect(find([{ ...wet, dissolvedOxygenMgPerL: '10.18' }], { stationPressureMmHg: '700' })).toEqual([]);
    expect(codes(find([{ ...wet, dissolvedOxygenMgPerL: '10.20' }], { stationPressureMmHg: '700' }))).toEqual([
      'oxygen-above-saturation',
    ]);
  });

  it('without the pressure asks only what holds at the highest one', () => {
    expect(find([{ ...wet, dissolvedOxygenMgPerL: '11.4' }])).toEqual([]);
    expect(find([{ ...wet, dissolvedOxygenMgPerL: '11.6' }])[0]?.sentence).toContain('highest pressure');
  });

  it('takes the percentage of the meter where there are no mg/L, or no temperature', () => {
    expect(find([{ dissolvedOxygenPercent: '111' }])[0]?.sentence).toContain('111 % as the meter shows');
    expect(find([{ dissolvedOxygenPercent: '110' }])).toEqual([]);
    expect(codes(find([{ dissolvedOxygenMgPerL: '12.0', dissolvedOxygenPercent: '130' }]))).toEqual([
      'oxygen-above-saturation',
    ]);
  });

  it('names the worst of several', () => {
    const many = ['11.8', '12.9', '12.0'].map((dissolvedOxygenMgPerL) => ({ ...wet, dissolvedOxygenMgPerL }));
    const [finding] = find(many, { stationPressureMmHg: '700' });
    expect(finding?.readings).toHaveLength(3);
    expect(finding?.sentence).toContain('12.9');
  });

  it('treats brine beyond the formula, and ice, without a figure of its own invention', () => {
    const brine = { temperatureC: '15.0', specificConductanceUsPerCm: '90000', dissolvedOxygenMgPerL: '9.0' };
    expect(find([brine], { stationPressureMmHg: '760' })).toEqual([]);
    expect(find([{ temperatureC: '-3', dissolvedOxygenMgPerL: '30' }], { stationPressureMmHg: '760' })).toEqual([]);
  });
});

describe('oxygen with a strongly negative ORP', () => {
  it('is asked about, and the last one is named', () => {
    const found = find([
      { dissolvedOxygenMgPerL: '3.20', orpMv: '-140' },
      { dissolvedOxygenMgPerL: '2.10', orpMv: '-182' },
      { dissolvedOxygenMgPerL: '0.30', orpMv: '-190' },
    ]);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({
      code: 'oxygen-with-negative-orp',
      readings: ['reading 1', 'reading 2'],
      verified: false,
    });
    expect(found[0]?.sentence).toContain('2.10 mg/L and ORP -182 mV');
  });

  it.each([
    ['1.00', '-182'],
    ['1.01', '-100'],
    ['8.00', '-99.9'],
    ['0.20', '-300'],
  ])('leaves %s mg/L with %s mV alone', (dissolvedOxygenMgPerL, orpMv) => {
    expect(find([{ dissolvedOxygenMgPerL, orpMv }])).toEqual([]);
  });

  it('needs both', () => {
    expect(find([{ dissolvedOxygenMgPerL: '5' }, { orpMv: '-300' }])).toEqual([]);
  });
});

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

describe('mg/L and percent of oxygen', () => {
  const water = { temperatureC: '20.0' };
  const station = { stationPressureMmHg: '632.4' };

  it('agree with saturation here: nothing is asked', () => {
    // 7.529 mg/L is saturation at 20 °C and 632.4 mmHg; half of it is 50 %.
    expect(find([{ ...water, dissolvedOxygenMgPerL: '3.76', dissolvedOxygenPercent: '50.0' }], station)).toEqual([]);
  });

  it('that agree only under 1 atm are told apart from a mistake', () => {
    const [finding] = find([{ ...water, dissolvedOxygenMgPerL: '3.76', dissolvedOxygenPercent: '41.4' }], station);
    expect(finding).toMatchObject({ code: 'percent-of-one-atmosphere', certainty: 'sure' });
    expect(finding?.sentence).toContain('it would be 49.9 %');
  });

  it('that agree with neither are asked about', () => {
    const [finding] = find([{ ...water, dissolvedOxygenMgPerL: '3.76', dissolvedOxygenPercent: '62.0' }], station);
    expect(finding).toMatchObject({ code: 'oxygen-figures-disagree', readings: ['reading 1'] });
    expect(finding?.numbers).toContainEqual({ name: 'expectedPercent', value: '49.9', unit: '%' });
  });

  it('without the pressure are asked about only where no pressure fits', () => {
    expect(find([{ ...water, dissolvedOxygenMgPerL: '3.76', dissolvedOxygenPercent: '50.0' }])).toEqual([]);
    expect(find([{ ...water, dissolvedOxygenMgPerL: '3.76', dissolvedOxygenPercent: '62.0' }])).toEqual([]);
    const low = find([{ ...water, dissolvedOxygenMgPerL: '3.76', dissolvedOxygenPercent: '30.0' }]);
    expect(low[0]?.sentence).toContain('agree at no pressure between 500 and 787 mmHg');
    expect(codes(find([{ ...water, dissolvedOxygenMgPerL: '3.76', dissolvedOxygenPercent: '80.0' }]))).toEqual([
      'oxygen-figures-disagree',
    ]);
  });

  it('are not compared near zero, where digits decide, nor where one is missing', () => {
    expect(find([{ ...water, dissolvedOxygenMgPerL: '0.10', dissolvedOxygenPercent: '2' }], station)).toEqual([]);
    expect(
      find(
        [
          { ...water, dissolvedOxygenMgPerL: '3.76' },
          { ...water, dissolvedOxygenPercent: '20' },
        ],
        station,
      ),
    ).toEqual([]);
    expect(find([{ dissolvedOxygenMgPerL: '3.76', dissolvedOxygenPercent: '20' }], station)).toEqual([]);
    expect(find([{ dissolvedOxygenMgPerL: '3.76', dissolvedOxygenPercent: '20' }])).toEqual([]);
  });
});

describe('what every finding is', () => {
  const decimal = (max: number, places: number) =>
    fc.option(
      fc.double({ min: 0, max, noNaN: true }).map((value) => value.toFixed(places)),
      { nil: null },
    );
  const reading = fc.record({
    temperatureC: decimal(35, 1),
    ph: decimal(14, 2),
    specificConductanceUsPerCm: decimal(60_000, 0),
    dissolvedOxygenMgPerL: decimal(20, 2),
    dissolvedOxygenPercent: decimal(200, 1),
    orpMv: fc.option(fc.integer({ min: -400, max: 400 }).map(String), { nil: null }),
  });

  it('names readings of the purge, a source and its figures, whatever the readings', () => {
    fc.assert(
      fc.property(fc.array(reading, { maxLength: 12 }), (parts) => {
        for (const finding of find(parts, { altitudeFt: '1000' })) {
          expect(finding.readings.length).toBeGreaterThan(0);
          expect(new Set(finding.readings).size).toBe(finding.readings.length);
          expect(finding.sentence).not.toMatch(/NaN|undefined|null/);
          expect(finding.source.length).toBeGreaterThan(10);
          for (const { value } of finding.numbers) expect(value).not.toBe('');
        }
      }),
    );
  });
});
