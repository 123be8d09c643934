import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oxygenSaturation } from '../../../src/science/oxygen/oxygen-saturation.ts';
import { salinityOfConductance } from '../../../src/science/oxygen/salinity-of-conductance.ts';
import { isRefusal } from '../../../src/science/refusal.ts';
import { codes, find } from './purge-parts.ts';

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

  it('asks of just those readings whose water takes up less by more than a tenth, however hot or salt it is', () => {
    const water = fc.record({
      temperatureC: fc.integer({ min: 0, max: 400 }).map((tenths) => (tenths / 10).toFixed(1)),
      specificConductanceUsPerCm: fc.integer({ min: 10, max: 60_000 }).map(String),
      dissolvedOxygenMgPerL: fc.integer({ min: 0, max: 2_000 }).map((hundredths) => (hundredths / 100).toFixed(2)),
    });
    fc.assert(
      fc.property(
        fc.array(water, { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 560, max: 790 }),
        (parts, mmHg) => {
          const wanted = parts.flatMap((part, at) => {
            const salinity = salinityOfConductance(Number(part.specificConductanceUsPerCm));
            const most = oxygenSaturation({
              temperatureC: Number(part.temperatureC),
              pressureMmHg: mmHg,
              salinity: isRefusal(salinity) ? 0 : salinity,
              basis: 'benson-and-krause',
            });
            if (isRefusal(most)) throw new Error(most.refused);
            return Number(part.dissolvedOxygenMgPerL) > 1.1 * most.mgPerL ? [`reading ${at + 1}`] : [];
          });
          const found = find(parts, { stationPressureMmHg: String(mmHg) }).find(
            ({ code }) => code === 'oxygen-above-saturation',
          );
          expect(found?.readings ?? []).toEqual(wanted);
        },
      ),
    );
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

  it('are given room for the weather where the altitude stands in for a barometer', () => {
    // 5,000 ft have 632.4 mmHg by the standard atmosphere; weather moves that, and with it the percentage, by 3.5 %
    const pair = { ...water, dissolvedOxygenMgPerL: '3.76', dissolvedOxygenPercent: '53.0' };
    expect(codes(find([pair], station))).toEqual(['oxygen-figures-disagree']);
    expect(find([pair], { altitudeFt: '5000' })).toEqual([]);
    expect(codes(find([{ ...pair, dissolvedOxygenPercent: '54.0' }], { altitudeFt: '5000' }))).toEqual([
      'oxygen-figures-disagree',
    ]);
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
