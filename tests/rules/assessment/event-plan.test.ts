import { describe, expect, it } from 'vitest';
import { criteriaSet } from '../../../src/catalog/criteria-sets.ts';
import { eventPlan } from '../../../src/protocol/event-plan.ts';
import { readPlan } from '../../../src/rules/assessment/read-plan.ts';
import { REGION_1 } from './purge-fixture.ts';

const set = criteriaSet(REGION_1);
if (!set) throw new Error('the catalog lost its first set');

describe('the plan of an event', () => {
  it('needs nothing but a criteria set, and null is the same as nothing', () => {
    const empty = eventPlan.parse({ criteria: REGION_1 });
    const nulls = eventPlan.parse({
      criteria: REGION_1,
      stabilization: { percentArithmetic: null, graceS: null, drawdown: null, parameters: null },
    });
    expect(readPlan(nulls, set).options).toEqual(readPlan(empty, set).options);
    expect(readPlan(eventPlan.parse({ criteria: REGION_1, stabilization: null }), set).options).toEqual(
      readPlan(empty, set).options,
    );
  });

  it('fills in every default, and says where it comes from', () => {
    const plan = readPlan({ criteria: REGION_1 }, set);
    expect(plan.options).toMatchObject({
      percentArithmetic: 'range-of-mean',
      absoluteArithmetic: 'total-spread',
      count: 'readings',
      windows: 'same-window',
      minimumIntervalMs: 300_000,
      graceMs: 30_000,
      largestGapMs: 1_800_000,
      turnover: 'required',
      flowChangePercent: '10',
      afterInterruption: 'one-interval',
      missing: 'skip',
      overRange: 'break',
      lowValueStraddle: 'each-reading',
      lowValueEquality: 'not-low',
      drawdown: { limit: '0.3', limitUnit: 'ft', steadyWithinFt: '0.05', required: false },
      minimumPurge: 'reported',
      whenUnknown: 'reported',
    });
    expect(plan.options.parameters.orp).toEqual({
      required: true,
      sensorFloor: null,
      roundToPlaces: null,
      atMost: null,
    });
    expect([plan.from('graceS'), plan.from('turnover')]).toEqual(['default', 'set']);
    expect(readPlan({ criteria: REGION_1, stabilization: { graceS: 0 } }, set).from('graceS')).toBe('plan');
  });

  it('takes every option', () => {
    const stabilization = {
      percentArithmetic: 'band',
      absoluteArithmetic: 'each-step',
      parameters: { orp: { use: 'advisory' }, 'dissolved-oxygen': { sensorFloor: '0.2', roundTo: '0.01' } },
      count: 'comparisons',
      windows: 'own-time',
      minimumIntervalS: 180,
      graceS: 0,
      largestGapS: 900,
      turnover: 'not-required',
      flowChangePercent: '20',
      afterInterruption: 'next-reading',
      missing: 'break',
      overRange: 'skip',
      lowValueStraddle: 'window',
      lowValueEquality: 'low',
      drawdown: { limitM: '0.1', steadyWithinFt: '0.1', steady: 'required' },
      minimumPurge: 'required',
      whenUnknown: 'not-stable',
    };
    const plan = readPlan(eventPlan.parse({ criteria: REGION_1, stabilization }), set);
    expect(plan.readingsNeeded).toBe(4);
    expect(plan.options.parameters['dissolved-oxygen']).toEqual({
      required: true,
      sensorFloor: '0.2',
      roundToPlaces: 2,
      atMost: null,
    });
    expect(plan.options.parameters.orp.required).toBe(false);
    expect(plan.options.drawdown).toEqual({ limit: '0.1', limitUnit: 'm', steadyWithinFt: '0.1', required: true });
  });

  it.each([
    [{ criteria: 'of-our-own' }, 'is no criteria set of the catalog; give one of: epa-region-1'],
    [{ criteria: REGION_1, stabilization: { drawdown: { limitFt: '0.3', limitM: '0.1' } } }, 'give one'],
    [{ criteria: REGION_1, stabilization: { flowChangePercent: '-1' } }, 'must not be below zero'],
    [{ criteria: REGION_1, stabilization: { parameters: { ph: { sensorFloor: '0' } } } }, 'must be above zero'],
    [{ criteria: REGION_1, stabilization: { percentArithmetic: 'spread-over-smallest' } }, 'Invalid option'],
    [{ criteria: REGION_1, stabilization: { graceSeconds: 30 } }, 'Unrecognized key'],
  ])('refuses %j and says why', (plan, message) => {
    expect(eventPlan.safeParse(plan).error?.issues[0]?.message).toContain(message);
  });
});
