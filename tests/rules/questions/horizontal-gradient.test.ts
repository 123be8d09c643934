import { describe, expect, it } from 'vitest';
import { horizontalGradient } from '../../../src/rules/questions/horizontal-gradient.ts';

const ask = (input: object) => horizontalGradient.answer(horizontalGradient.input.parse(input));
const level = (well: string, eastFt: string, northFt: string, headFt: string, more: object = {}) => ({
  well,
  at: '2026-05-04T08:00:00-05:00',
  eastFt,
  northFt,
  headFt,
  ...more,
});

// A textbook exercise (four piezometers at the corners of a hectare), in metres: the gradient has no unit.
const hectare = [
  level('NE', '100', '100', '30.0'),
  level('SE', '100', '0', '30.0'),
  level('SW', '0', '0', '30.6'),
  level('NW', '0', '100', '30.6'),
];

describe('how steep is the water table, and where does the water go?', () => {
  it('is 0.006 due east over the hectare', () => {
    expect(ask({ levels: hectare })).toMatchObject({
      gradient: '0.00600',
      gradientError: '0.00010',
      flowAzimuthDeg: '90',
      flowAzimuthFromTrueNorthDeg: null,
      azimuthErrorDeg: '1.0',
      largestHeadDifferenceFt: '0.60',
      standardResidualFt: '0.000',
      rSquared: '1.0000',
      conditionNumber: '1.0',
      excluded: [],
    });
    expect(ask({ levels: hectare }).residuals.map((one) => one.well)).toEqual(['NE', 'NW', 'SE', 'SW']);
  });

  it('turns to true north by the convergence, round the circle', () => {
    expect(ask({ levels: hectare, gridConvergenceDeg: '-1.2' }).flowAzimuthFromTrueNorthDeg).toBe('89');
    const north = [level('A', '0', '0', '10'), level('B', '0', '100', '9'), level('C', '100', '0', '10.00')];
    expect(ask({ levels: north, gridConvergenceDeg: '-0.4' })).toMatchObject({
      flowAzimuthDeg: '0',
      flowAzimuthFromTrueNorthDeg: '0',
    });
  });

  it('says of three wells that they always fit', () => {
    const answer = ask({ levels: hectare.slice(1) });
    expect(answer.standardResidualFt).toBeNull();
    expect(answer.reasons[2]).toContain('Three wells always fit');
  });

  it('leaves levels out that are not of the round, and names them', () => {
    const late = level('MW-9', '50', '50', '29.0', { at: '2026-05-06T08:00:00-05:00' });
    const answer = ask({ levels: [...hectare, late] });
    expect(answer.gradient).toBe('0.00600');
    expect(answer.excluded).toEqual([
      { well: 'MW-9', because: 'MW-9 at 2026-05-06T08:00:00-05:00 is outside the 24 h of the round' },
    ]);
  });

  it('leaves wells out that were pumped less than 24 h before, but not one that was pumped after', () => {
    const pumped = (lastPumpedAt: string) =>
      ask({ levels: [...hectare, level('MW-9', '50', '50', '29.0', { lastPumpedAt })] }).excluded;
    expect(pumped('2026-05-03T08:00:01-05:00')).toEqual([
      { well: 'MW-9', because: 'MW-9 at 2026-05-04T08:00:00-05:00 was measured less than 24 h after pumping' },
    ]);
    expect(pumped('2026-05-03T08:00:00-05:00')).toEqual([]);
    expect(pumped('2026-05-04T08:00:01-05:00')).toEqual([]);
  });

  it('asks for a shorter span where tides move the wells', () => {
    expect(ask({ levels: hectare, isTidal: true }).refused).toContain('give the span of the plan');
    expect(ask({ levels: hectare, isTidal: true, roundSpanH: '1' }).gradient).toBe('0.00600');
    expect(ask({ levels: hectare, isTidal: false }).gradient).toBe('0.00600');
    const slow = hectare.map((one, hour) => ({ ...one, at: `2026-05-04T0${hour}:00:00-05:00` }));
    expect(ask({ levels: slow, roundSpanH: '1' }).refused).toContain('2 wells make no plane');
    expect(horizontalGradient.input.safeParse({ levels: hectare, roundSpanH: '0' }).success).toBe(false);
    expect(horizontalGradient.answer({ levels: hectare, roundSpanH: '0' }).refused).toContain('no levels in it');
  });

  it('begins where the plan says', () => {
    const answer = ask({ levels: hectare, roundStartsAt: '2026-05-05T08:00:00-05:00' });
    expect(answer.refused).toContain('0 wells make no plane');
    expect(answer.excluded).toHaveLength(4);
  });

  it('does not mix zones nor datums, but asks for neither', () => {
    const [first, ...rest] = hectare;
    const zones = [{ ...first, zone: 'deep' }, ...rest.map((one) => ({ ...one, zone: 'shallow' }))];
    expect(ask({ levels: zones }).refused).toContain('more than one zone (deep, shallow)');
    expect(ask({ levels: [{ ...first, zone: 'deep' }, ...rest] }).refused).toBeNull();
    const datums = [
      { ...first, verticalDatum: 'NAVD 88' },
      ...rest.map((one) => ({ ...one, verticalDatum: 'NGVD 29' })),
    ];
    expect(ask({ levels: datums }).refused).toContain('more than one vertical datum (NAVD 88, NGVD 29)');
  });

  it('has no direction of a level plane', () => {
    const flat = hectare.map((one) => ({ ...one, headFt: '30.0' }));
    const answer = ask({ levels: flat, gridConvergenceDeg: '1' });
    expect(answer).toMatchObject({
      gradient: '0',
      flowAzimuthDeg: null,
      flowAzimuthFromTrueNorthDeg: null,
      azimuthErrorDeg: null,
      rSquared: null,
    });
    expect(answer.reasons[0]).toContain('no direction');
    expect(answer.reasons.at(-1)).toContain('not told apart');
  });

  it('refuses a line of wells and a level error that is none', () => {
    const line = hectare.map((one, at) => ({ ...one, eastFt: `${at}`, northFt: `${at}` }));
    expect(ask({ levels: line }).refused).toContain('in a line');
    expect(ask({ levels: hectare, levelErrorFt: '-0.01' }).refused).toContain('level error');
  });
});
