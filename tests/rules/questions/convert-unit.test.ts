import { describe, expect, it } from 'vitest';
import { convertUnit } from '../../../src/rules/questions/convert-unit.ts';

const ask = (input: object) => convertUnit.answer(convertUnit.input.parse(input));

describe('what is this in another unit?', () => {
  it('converts with the digits that were read', () => {
    expect(ask({ amount: '1.50', fromUnit: '[ft_i]', toUnit: 'm' })).toMatchObject({
      converted: '0.457',
      step: '0.001',
      refused: null,
      reasons: ['1.50 [ft_i] is 0.457 m, to 0.001.'],
    });
  });

  it('names the definition of each unit', () => {
    const { sources } = ask({ amount: '1', fromUnit: '[ft_us]', toUnit: '[ft_i]' });
    expect(sources.at(-2)).toContain('1200/3937 m exactly');
    expect(sources.at(-1)).toContain('1 yd = 0.9144 m exactly');
  });

  it('tells a difference of temperatures from a temperature', () => {
    expect(ask({ amount: '1.0', fromUnit: '[degF]', toUnit: 'Cel', isDifference: true }).converted).toBe('0.56');
    expect(ask({ amount: '1.0', fromUnit: '[degF]', toUnit: 'Cel' }).converted).toBe('-17.22');
  });

  it('never makes one turbidity of another, and says why', () => {
    const answer = ask({ amount: '4.6', fromUnit: '[NTU]', toUnit: '[FNU]' });
    expect(answer).toMatchObject({ converted: null, step: null, reasons: [] });
    expect(answer.refused).toContain('never converted');
  });

  it('asks back where a unit is not known', () => {
    const answer = ask({ amount: '4.6', fromUnit: 'gal', toUnit: 'L' });
    expect(answer.refused).toContain('[gal_us] (US gallon), [gal_br] (imperial gallon)');
    expect(answer.sources.at(-1)).toContain('litre');
  });
});
