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
      beforeFirstReading: { amount: '1', of: 'equipment-volume' },
      betweenReadings: { amount: '0.25', of: 'well-volume' },
      volumeGracePercent: '2',
      pumpVolumeMl: '150',
      limits: { minutes: 90, readings: 20, wellVolumes: '5' },
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
    expect(plan.options).toMatchObject({
      beforeFirstReading: { times: { value: '1', verified: true, source: "the event's plan" }, of: 'equipment-volume' },
      betweenReadings: { times: { value: '0.25' }, of: 'well-volume' },
      volumeGracePercent: '2',
      pumpVolumeMl: '150',
      limits: [
        { of: 'minutes', at: { value: '90' }, from: 'plan' },
        { of: 'readings', at: { value: '20' }, from: 'plan' },
        { of: 'well-volumes', at: { value: '5' }, from: 'plan' },
      ],
    });
    expect([plan.from('betweenReadings'), plan.from('limits')]).toEqual(['plan', 'plan']);
    expect(plan.options.drawdown).toEqual({ limit: '0.1', limitUnit: 'm', steadyWithinFt: '0.1', required: true });
  });

  it('says that an interval which the set does not give is our default', () => {
    const ufgs = criteriaSet('ufgs-02521-well-development');
    if (!ufgs) throw new Error('the catalog lost a set');
    const plan = readPlan({ criteria: ufgs.id }, ufgs);
    expect([plan.options.minimumIntervalMs, plan.from('minimumIntervalS')]).toEqual([180_000, 'default']);
    expect(readPlan({ criteria: REGION_1 }, set).from('minimumIntervalS')).toBe('set');
    expect([plan.from('betweenReadings'), plan.options.limits]).toEqual(['set', []]);
  });

  it.each([
    [{ criteria: 'of-our-own' }, 'is no criteria set of the catalog; give one of: epa-region-1'],
    [{ criteria: REGION_1, stabilization: { drawdown: { limitFt: '0.3', limitM: '0.1' } } }, 'give one'],
    [{ criteria: REGION_1, stabilization: { flowChangePercent: '-1' } }, 'must not be below zero'],
    [{ criteria: REGION_1, stabilization: { volumeGracePercent: '100' } }, 'at 100 nothing would be drawn'],
    [
      { criteria: REGION_1, stabilization: { betweenReadings: { amount: '-1', of: 'well-volume' } } },
      'not be below zero',
    ],
    [{ criteria: REGION_1, stabilization: { betweenReadings: { amount: '1', of: 'bucket' } } }, 'Invalid option'],
    [{ criteria: REGION_1, stabilization: { limits: { wellVolumes: '0' } } }, 'must be above zero'],
    [
      { criteria: REGION_1, stabilization: { drawdown: { limitFt: '1', steadyAtAnyDepth: true } } },
      'more than one limit',
    ],
    [
      { criteria: REGION_1, stabilization: { drawdown: { limitScreenLengthPercent: '10', limitM: '0.1' } } },
      'more than one limit of the drawdown: give one',
    ],
    [{ criteria: REGION_1, stabilization: { parameters: { ph: { sensorFloor: '0' } } } }, 'must be above zero'],
    [{ criteria: REGION_1, stabilization: { percentArithmetic: 'spread-over-smallest' } }, 'Invalid option'],
    [{ criteria: REGION_1, stabilization: { graceSeconds: 30 } }, 'Unrecognized key'],
  ])('refuses %j and says why', (plan, message) => {
    expect(eventPlan.safeParse(plan).error?.issues[0]?.message).toContain(message);
  });
});
