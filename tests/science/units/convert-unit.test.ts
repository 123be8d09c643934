import ucum from '@lhncbc/ucum-lhc';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isRefusal, type Refusal } from '../../../src/science/refusal.ts';
import { type Converted, convertDifference, convertUnit } from '../../../src/science/units/convert-unit.ts';
import { asNumber } from '../../../src/science/units/fraction.ts';
import { UNITS, unitOfField, unitWithCode } from '../../../src/science/units/unit-list.ts';

const oracle = ucum.UcumLhcUtils.getInstance();

function given(result: Converted | Refusal): Converted {
  if (isRefusal(result)) throw new Error(result.refused);
  return result;
}

const text = (value: string, from: string, to: string) => given(convertUnit(value, from, to)).text;
const exactly = (value: string, from: string, to: string) => asNumber(given(convertUnit(value, from, to)).exact);
const refusal = (result: Converted | Refusal) => (isRefusal(result) ? result.refused : 'was converted');

const pairs = UNITS.flatMap((from) =>
  UNITS.filter((to) => to.quantity === from.quantity && !from.alone && !to.alone).map((to) => [from.code, to.code]),
) as [string, string][];

describe('factors against an independent unit library', () => {
  const MERCURY = /Hg/;

  it.each(pairs.filter(([from, to]) => MERCURY.test(from) === MERCURY.test(to)))('%s to %s', (from, to) => {
    const answer = oracle.convertUnitTo(from, 1_000, to);
    expect(answer.status).toBe('succeeded');
    const ours = exactly('1000', from, to);
    // Its table rounds 0 °F and 0 °C to binary numbers; everything else agrees to 12 digits.
    const tolerance = unitWithCode(from)?.quantity === 'temperature' ? 1e-11 : 1e-12;
    expect(Math.abs(ours - Number(answer.toVal)) / Math.abs(ours)).toBeLessThan(tolerance);
  });

  // UCUM defines m[Hg] as 133.3220 kPa. Conventional mercury is 133.322387415 (NIST SP 811), which makes 1 inHg
  // 3.38639 kPa; the rounded one would make it 3.38638.
  it.each(pairs.filter(([from, to]) => MERCURY.test(from) !== MERCURY.test(to)))(
    '%s to %s differs by 3 parts in a million, for its mercury is rounded',
    (from, to) => {
      const ratio = exactly('1000', from, to) / Number(oracle.convertUnitTo(from, 1_000, to).toVal);
      const parts = Math.abs(ratio - 1) * 1e6;
      expect(parts).toBeGreaterThan(2.8);
      expect(parts).toBeLessThan(3.0);
    },
  );

  it('knows every code that is no turbidity', () => {
    const unknown = UNITS.filter((unit) => oracle.validateUnitString(unit.code).status !== 'valid');
    expect(unknown.map((unit) => unit.code)).toEqual(['[NTU]', '[FNU]']);
  });

  it('would convert remarks of turbidity one to one, which we refuse', () => {
    expect(oracle.convertUnitTo('{NTRU}', 7, '{FBU}').toVal).toBe(7);
    expect(refusal(convertUnit('7', '{NTRU}', '{FBU}'))).toContain('NTRU is turbidity by white light');
  });
});

describe('conversions that the trade uses (exact by definition)', () => {
  it.each([
    ['1', '[ft_i]', 'm', 0.3048],
    ['1', '[gal_us]', 'L', 3.785411784],
    ['1', '[cft_i]', '[gal_us]', 7.480519480519481],
    ['1', '[psi]', 'kPa', 6.894757293168361],
    ['1', 'atm', '[psi]', 14.695948775513449],
    ['1', '[gal_us]/min', 'L/min', 3.785411784],
    ['1', "[in_i'Hg]", 'kPa', 3.386388640341],
    ['760', 'mm[Hg]', 'kPa', 101.3250144354],
    ['212', '[degF]', 'Cel', 100],
    ['-40', '[degF]', 'Cel', -40],
    ['0', 'K', 'Cel', -273.15],
    ['1.5', 'mS/cm', 'uS/cm', 1_500],
  ])('%s %s is exactly so many %s', (value, from, to, expected) => {
    expect(exactly(value, from, to)).toBeCloseTo(expected, 12);
  });

  it('makes 1.5 mS/cm 1500 µS/cm, where binary numbers make 1499.9999999999998', () => {
    expect(given(convertUnit('1.5', 'mS/cm', 'uS/cm'))).toMatchObject({ text: '1500', step: '100' });
    expect(oracle.convertUnitTo('mS/cm', 1.5, 'uS/cm').toVal).not.toBe(1_500);
  });

  // 1200/3937 m against 0.3048 m: 2 parts in a million, 4 ft at a state-plane easting of 2,000,000 ft.
  it('does not take a survey foot for a foot', () => {
    expect(exactly('2000000', '[ft_us]', '[ft_i]') - 2_000_000).toBeCloseTo(4.0, 4);
    expect(text('100.00', '[ft_us]', '[ft_i]')).toBe('100.00');
  });

  it('does not take an imperial gallon for a US one', () => {
    expect(exactly('1', '[gal_br]', '[gal_us]')).toBeCloseTo(1.20095, 5);
  });
});

describe('honest digits', () => {
  it.each([
    ['1.50', '[ft_i]', 'm', '0.457', '0.001'],
    ['1.5', '[ft_i]', 'm', '0.46', '0.01'],
    ['1', '[ft_i]', 'm', '0.3', '0.1'],
    ['64.52', '[ft_i]', 'm', '19.666', '0.001'],
    ['1.5', '[gal_us]', 'mL', '5700', '100'],
    ['53.6', '[degF]', 'Cel', '12.00', '0.01'],
    ['12.0', 'Cel', '[degF]', '53.6', '0.1'],
    ['0.3', '[ft_i]', 'm', '0.09', '0.01'],
    ['0.1', 'm', '[ft_i]', '0.3', '0.1'],
    ['0.00', '[ft_i]', 'm', '0.000', '0.001'],
    ['12.0', 'Cel', 'K', '285.15', '0.01'],
    ['7.10', 'mg/L', 'mg/L', '7.10', '0.01'],
  ])('%s %s is %s %s, to %s', (value, from, to, expected, step) => {
    expect(given(convertUnit(value, from, to))).toMatchObject({ text: expected, step });
  });

  it('gives the entered digits back on the way home, for every pair of units', () => {
    const entered = fc
      .tuple(fc.integer({ min: -999_999, max: 999_999 }), fc.integer({ min: 0, max: 6 }))
      .map(([value, places]) => (value / 10 ** places).toFixed(places).replace(/^-(0(?:\.0*)?)$/, '$1'));
    fc.assert(
      fc.property(entered, fc.constantFrom(...pairs), (value, [from, to]) => {
        const there = given(convertUnit(value, from, to));
        const place = value.includes('.') ? value.length - value.indexOf('.') - 1 : 0;
        const back = asNumber(given(convertUnit(there.text, to, from)).exact);
        expect(back.toFixed(place).replace(/^-(0(?:\.0*)?)$/, '$1')).toBe(value);
      }),
      { numRuns: 2_000 },
    );
  });

  it('is never finer than a tenth of a step as entered, nor coarser than a step', () => {
    fc.assert(
      fc.property(fc.constantFrom(...pairs), fc.integer({ min: 0, max: 6 }), ([from, to], places) => {
        const entered = (1).toFixed(places);
        const stepThere = asNumber(given(convertDifference((10 ** -places).toFixed(places), from, to)).exact);
        const step = Number(given(convertDifference(entered, from, to)).step);
        expect(step).toBeLessThanOrEqual(stepThere * (1 + 1e-12));
        expect(step * 10).toBeGreaterThan(stepThere * (1 - 1e-12));
      }),
    );
  });

  it('keeps the order of two values', () => {
    fc.assert(
      fc.property(fc.constantFrom(...pairs), fc.integer(), fc.integer(), ([from, to], a, b) => {
        const [x, y] = [exactly(String(a), from, to), exactly(String(b), from, to)];
        expect(Math.sign(x - y)).toBe(Math.sign(a - b));
      }),
    );
  });
});

describe('differences', () => {
  it('of temperature leave the zero of the scale alone', () => {
    expect(given(convertDifference('1.0', '[degF]', 'Cel')).text).toBe('0.56');
    expect(text('1.0', '[degF]', 'Cel')).toBe('-17.22');
    expect(given(convertDifference('0.2', 'Cel', 'K')).text).toBe('0.2');
  });

  it('of everything else are values', () => {
    for (const [from, to] of pairs) {
      if (unitWithCode(from)?.quantity === 'temperature') continue;
      expect(convertDifference('2.50', from, to)).toEqual(convertUnit('2.50', from, to));
    }
  });
});

describe('what is never converted', () => {
  it.each([
    ['[NTU]', '[FNU]', 'NTU is turbidity by white light, 90 degrees'],
    ['[pH]', '[pH]', 'was converted'],
    ['[ppm]', 'mg/L', 'part per million measures parts and milligram per litre measures concentration'],
    ['m[H2O]', 'm', 'measures pressure'],
    ['kg/m3', 'g/L', 'measures density'],
    ['ft', 'm', '[ft_i] (international foot), [ft_us] (US survey foot).'],
    ['m', 'gal', '[gal_us] (US gallon), [gal_br] (imperial gallon).'],
    ['m', 'furlong', '"furlong" is no code of a unit here: give one of m (metre), km'],
  ])('%s to %s: %s', (from, to, why) => {
    expect(refusal(convertUnit('1.0', from, to))).toContain(why);
  });

  it('an NTU stays an NTU', () => {
    expect(text('4.60', '[NTU]', '[NTU]')).toBe('4.60');
  });

  it.each(['', '1e3', 'NaN', '1,5', '12 ft'])('"%s", which is no plain decimal', (value) => {
    expect(refusal(convertUnit(value, 'm', '[ft_i]'))).toContain('no plain decimal');
  });
});

describe('the list of units', () => {
  it('has each code and each ending of a field name once, and a source for each factor', () => {
    expect(new Set(UNITS.map((unit) => unit.code)).size).toBe(UNITS.length);
    expect(new Set(UNITS.map((unit) => unit.suffix)).size).toBe(UNITS.length);
    expect(UNITS.filter((unit) => unit.source.length < 2)).toEqual([]);
  });

  it.each([
    ['depthToWaterFt', '[ft_i]'],
    ['flowMlPerMin', 'mL/min'],
    ['purgeMin', 'min'],
    ['specificConductanceUsPerCm', 'uS/cm'],
    ['dissolvedOxygenPercent', '%'],
    ['turbidityFnu', '[FNU]'],
    ['ph', '[pH]'],
    ['orpMv', 'mV'],
    ['eastingSurveyFt', '[ft_us]'],
    ['Ft', undefined],
    ['well', undefined],
    ['limit', undefined],
  ])('reads the unit of %s from its name', (field, code) => {
    expect(unitOfField(field)?.code).toBe(code);
  });
});
