import { describe, expect, it } from 'vitest';
import type { ReadingRecord } from '../../../src/rules/assessment/assessment-input.ts';
import { assess, every5Min, later, occurrence, reading, STEADY } from './purge-fixture.ts';

function codes(purge: Parameters<typeof assess>[0]): string[] {
  return assess(purge).advice.map(({ code, parameter }) => (parameter ? `${code}: ${parameter}` : code));
}

type Rows = Parameters<typeof every5Min>[0];

/** Small differences, as water has them, so that no display seems to stand still. */
const LIVELY: Rows = ['2.40', '2.41', '2.42', '2.41', '2.40'].map((dissolvedOxygenMgPerL, index) => ({
  dissolvedOxygenMgPerL,
  ph: ['7.10', '7.11'][index % 2] ?? '7.10',
}));

function lively(rows: Rows): ReadingRecord[] {
  return every5Min(rows.map((row, index) => ({ ...LIVELY[index], ...row })));
}

describe('advice on what holds the water up', () => {
  it('sees the water warm in the sun: rising at each of four readings by half a degree together', () => {
    const warm = ['12.0', '12.2', '12.4', '12.6'].map((temperatureC) => ({ temperatureC }));
    expect(codes({ readings: lively(warm) })).toContain('warming: temperature');
    const slow = ['12.0', '12.1', '12.2', '12.4'].map((temperatureC) => ({ temperatureC, ph: '7.1' }));
    expect(codes({ readings: lively([...slow]) })).not.toContain('warming: temperature');
    expect(codes({ readings: lively(warm.slice(0, 3)) })).not.toContain('warming: temperature');
    const dips = ['12.0', '12.6', '12.5', '13.4'].map((temperatureC) => ({ temperatureC }));
    expect(codes({ readings: lively(dips) })).not.toContain('warming: temperature');
    expect(codes({ readings: lively(warm), criteria: 'puls-and-barcelona-1996' })).not.toContain(
      'warming: temperature',
    );
  });

  it('counts half a degree in °C where the meter shows °F', () => {
    const { temperatureC: _, ...others } = STEADY;
    const rising = (step: number) =>
      [0, 1, 2, 3].map((index) =>
        reading(
          { time: later(index * 300) },
          { ...others, ph: `7.${index}`, temperatureF: (54 + index * step).toFixed(1) },
        ),
      );
    expect(codes({ readings: rising(0.4) })).toContain('warming: temperature');
    expect(codes({ readings: rising(0.2) })).not.toContain('warming: temperature');
  });

  it('sees bubbles where oxygen or turbidity jumps up and down, or gas was noted', () => {
    const jumping = ['2.4', '3.4', '2.2', '3.6'].map((dissolvedOxygenMgPerL) => ({ dissolvedOxygenMgPerL }));
    expect(codes({ readings: lively(jumping) })).toContain('bubbles: dissolved-oxygen');
    const falling = ['40', '30', '22', '16'].map((turbidityNtu) => ({ turbidityNtu }));
    expect(codes({ readings: lively(falling) })).toEqual(['still-drifting: turbidity']);
    const air = [occurrence({ time: '10:08' }, 'air-in-line')];
    expect(codes({ readings: lively(falling), occurrences: air })).toContain('bubbles: turbidity');
    const before = [occurrence({ time: '10:00' }, 'air-in-line')];
    expect(codes({ readings: lively(falling), occurrences: before })).not.toContain('bubbles: turbidity');
    expect(codes({ readings: lively([{}, {}, {}]), occurrences: air })).toEqual([]);
    expect(codes({ readings: lively([{ ph: '7' }, { ph: '8' }, { ph: '7' }]), occurrences: air })).toEqual([]);
  });

  it('sees a parameter drift in one direction, and one that drifts by more each time', () => {
    expect(codes({ readings: lively([{ ph: '7.0' }, { ph: '7.2' }, { ph: '7.3' }]) })).toEqual(['still-drifting: ph']);
    const growing = assess({ readings: lively([{ ph: '7.5' }, { ph: '7.4' }, { ph: '7.1' }]) });
    expect(growing.advice).toEqual([
      {
        code: 'steps-growing',
        parameter: 'ph',
        sentence: 'pH is still falling, by more at each step: it is moving away from a steady state.',
      },
    ]);
    expect(codes({ readings: lively([{ ph: '7.0' }, { ph: '7.3' }, { ph: '7.1' }]) })).toEqual([]);
    expect(codes({ readings: lively([{ ph: '7.0' }, { ph: '7.0' }, { ph: '7.3' }]) })).toEqual([]);
  });

  it('asks whether the display is paused where no figure changed in any digit, also when that passes', () => {
    const still = assess({ readings: every5Min([{}, {}, {}]) });
    expect(still.stable).toBe(true);
    expect(still.advice.map(({ code }) => code)).toEqual(['display-stands-still']);
    expect(codes({ readings: every5Min([{}, {}, { orpMv: '-83' }]) })).toEqual([]);
    expect(codes({ readings: every5Min([{}, {}]) })).toEqual([]);
  });

  it('[A8] says where a percentage passes and its spread over the smallest value does not', () => {
    const values = ['1.00', '0.95', '0.905'].map((dissolvedOxygenMgPerL) => ({ dissolvedOxygenMgPerL }));
    const result = assess({ readings: lively(values) });
    expect(result.stable).toBe(true);
    expect(result.parameters[3]).toMatchObject({
      compared: '9.99',
      spreadOverSmallest: { percent: '10.50', within: false },
    });
    expect(result.advice.map(({ code, parameter }) => [code, parameter])).toEqual([
      ['spread-over-smallest', 'dissolved-oxygen'],
    ]);
  });

  it('[A8] names the other arithmetics in use that decide otherwise, and what the well would be by them', () => {
    const values = ['1.00', '0.95', '0.905'].map((dissolvedOxygenMgPerL) => ({ dissolvedOxygenMgPerL }));
    expect(assess({ readings: lively(values) }).otherArithmetics).toEqual([
      { type: 'percent', arithmetic: 'earlier-of-last', stable: false, parameters: ['dissolved-oxygen'] },
    ]);
    const ph = assess({ readings: lively([{ ph: '7.10' }, { ph: '7.18' }, { ph: '7.26' }]) });
    expect(ph.otherArithmetics).toEqual([
      { type: 'absolute', arithmetic: 'band', stable: true, parameters: ['ph'] },
      { type: 'absolute', arithmetic: 'each-step', stable: true, parameters: ['ph'] },
    ]);
    const both = assess({ readings: lively([{ ph: '7.10' }, { ph: '7.18' }, { ph: '7.26', turbidityNtu: '99' }]) });
    expect(both.otherArithmetics).toMatchObject([{ stable: false }, { stable: false }]);
    const blocked = assess({
      readings: lively([{ ph: '7.10' }, { ph: '7.18' }, { ph: '7.26' }]),
      plan: { whenUnknown: 'not-stable' },
    });
    expect(blocked.otherArithmetics).toMatchObject([{ stable: false }, { stable: false }]);
    expect(assess({ readings: [] }).otherArithmetics).toEqual([]);
  });

  // Region 1, Rev. 4, from memory: after two hours choose to go on, to stop, or to stop and sample.
  it('asks for a choice after two hours without stability', () => {
    const readings = (count: number) =>
      Array.from({ length: count }, (_, index) =>
        reading({ time: later(index * 300) }, { ...STEADY, ph: (7 + (index % 2)).toFixed(1) }),
      );
    expect(codes({ readings: readings(25) })).toContain('time-limit');
    expect(codes({ readings: readings(24) })).not.toContain('time-limit');
    expect(codes({ readings: readings(25), criteria: 'puls-and-barcelona-1996' })).not.toContain('time-limit');
    const calm = readings(25).map(({ fields, ...rest }) => ({ ...rest, fields: { ...fields, ph: '7.0' } }));
    expect(codes({ readings: calm })).not.toContain('time-limit');
  });
});
