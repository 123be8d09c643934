import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bracket, one, sample, sc, setTo } from './bracket-parts.ts';
import { check } from './check-parts.ts';

describe('whatever the day', () => {
  const minute = fc.integer({ min: 0, max: 59 }).map((value) => String(value).padStart(2, '0'));
  const hour = fc.integer({ min: 6, max: 18 }).map((value) => String(value).padStart(2, '0'));
  const time = fc.tuple(hour, minute).map(([h, m]) => `${h}:${m}`);
  const anyCheck = fc
    .tuple(time, fc.constantFrom('100', '1000', '5000'), fc.integer({ min: 80, max: 120 }), fc.boolean())
    .map(([at, nominal, percent, isSet]) =>
      isSet ? setTo(at, nominal) : sc(at, nominal, String((Number(nominal) * percent) / 100)),
    );
  const day = fc.uniqueArray(anyCheck, { maxLength: 8, selector: ({ id }) => id });
  const times = fc.array(time, { maxLength: 5 });

  it('the order of the lists does not matter', () => {
    fc.assert(
      fc.property(day, times, (checks, at) => {
        const readings = at.map((when) => sample(when, '900'));
        expect(bracket(checks.toReversed(), readings)).toEqual(bracket(checks, readings));
        expect(bracket(checks, readings.toReversed())).toEqual(bracket(checks, readings).toReversed());
      }),
    );
  });

  it('of two tries at one minute in one standard the order of their ids decides, in any order of the list', () => {
    const tries = [sc('15:30', '1000', '1200'), sc('15:30', '1000', '1010')].map((one, at) => ({
      ...one,
      id: `try ${at}`,
    }));
    const before = sc('07:35', '100', '102');
    expect(one([before, ...tries], sample('10:00', '500')).standing).toBe('covered');
    expect(one([...tries.toReversed(), before], sample('10:00', '500')).standing).toBe('covered');
  });

  it('other meters and other parameters do not matter', () => {
    fc.assert(
      fc.property(day, times, (checks, at) => {
        const readings = at.map((when) => sample(when, '900'));
        const foreign = [
          check('09:00', 'specific-conductance', '1', { nominal: '1000' }, { meter: 'meter 2' }),
          check('09:00', 'ph', '1', { valueAtTemperature: '7' }),
        ];
        expect(bracket([...checks, ...foreign], readings)).toEqual(bracket(checks, readings));
      }),
    );
  });

  it('what is covered has no reason against it, and what is in question has one', () => {
    fc.assert(
      fc.property(day, times, (checks, at) => {
        for (const { standing, reasons, before, after } of bracket(
          checks,
          at.map((when) => sample(when, '900')),
        )) {
          if (standing === 'covered') expect([reasons, before !== null, after !== null]).toEqual([[], true, true]);
          else expect(reasons.length).toBeGreaterThan(0);
        }
      }),
    );
  });
});
