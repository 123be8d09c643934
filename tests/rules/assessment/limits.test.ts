import { describe, expect, it } from 'vitest';
import type { StabilizationPlan } from '../../../src/protocol/event-plan.ts';
import { assessPurge } from '../../../src/rules/assessment/assess-purge.ts';
import type { CallRecord } from '../../../src/rules/assessment/assessment-input.ts';
import type { VectorGiven } from '../../../src/rules/flags/flag-vector.ts';
import { vectorFacts } from '../../../src/rules/flags/vector-bundle.ts';
import { visitFlags } from '../../../src/rules/flags/visit-flags.ts';
import { assess, call, later, level, REGION_1, reading, STEADY, well } from './purge-fixture.ts';

/** One reading every ten minutes; the turbidity jumps until it is told to stand still. */
function purge(count: number, given: { steadyFrom?: number; calls?: CallRecord[]; plan?: StabilizationPlan } = {}) {
  const { steadyFrom = 99, ...rest } = given;
  const readings = Array.from({ length: count }, (_, index) =>
    reading(
      { time: later(index * 600) },
      { ...STEADY, turbidityNtu: index >= steadyFrom ? '8.2' : String(20 + (index % 2) * 20) },
    ),
  );
  return assess({ readings, ...rest });
}

function advises(result: ReturnType<typeof purge>): boolean {
  return result.advice.some(({ code }) => code === 'time-limit');
}

const STOPPED = [call({ time: later(7_260) }, 'not-stable-stopped')];

describe('the limit of two hours', () => {
  // EQASOP-GW4 Rev. 4, 2017, from memory: after 2 hours the crew chooses.
  it('[A25] is reached by the first reading two hours after the first', () => {
    expect(purge(12).limits).toEqual([
      {
        of: 'minutes',
        limit: '120',
        from: 'set',
        verified: false,
        status: 'not-reached',
        because: 'Not yet at 120 min.',
      },
    ]);
    const result = purge(14);
    expect(result.limits?.[0]).toMatchObject({
      status: 'reached',
      reachedAt: later(7_200),
      reading: expect.any(String),
      choices: [
        { decision: 'purging-continued' },
        { decision: 'not-stable-stopped' },
        { decision: 'not-stable-sampled' },
      ],
      because: 'Not stable after 120 min: the crew chooses, and no call records what.',
    });
    expect(result.limits?.[0]).not.toHaveProperty('call');
    expect(advises(result)).toBe(true);
  });

  it('[A25] is not reached where the water was stable before or with that reading', () => {
    expect(purge(14, { steadyFrom: 10 }).limits?.[0]).toMatchObject({
      status: 'not-reached',
      because: 'It was stable before 120 min.',
    });
    expect(purge(14, { steadyFrom: 11 }).limits?.[0]).toMatchObject({ status: 'reached' });
    expect(purge(6, { steadyFrom: 1 }).limits?.[0]).toMatchObject({ because: 'It was stable before 120 min.' });
  });

  it('[A25] stays reached when the water becomes stable later, and is asked no more', () => {
    const result = purge(18, { steadyFrom: 14 });
    expect([result.stable, result.limits?.[0]?.status, advises(result)]).toEqual([true, 'reached', false]);
  });

  it('[A25] finds the choice in the first call at or after that reading', () => {
    const result = purge(16, { calls: [...STOPPED, call({ time: later(7_800) }, 'not-stable-sampled')] });
    expect(result.limits?.[0]).toMatchObject({ call: STOPPED[0]?.id, choice: 'not-stable-stopped' });
    expect(result.limits?.[0]?.because).toBe('Not stable after 120 min; a call records what the crew chose.');
    expect(advises(result)).toBe(false);
    const at = purge(16, { calls: [call({ time: later(7_200) }, 'purging-continued')] });
    expect(at.limits?.[0]).toMatchObject({ choice: 'purging-continued' });
  });

  it('[A25] takes a call before it that ended the purge, and none that said to purge on', () => {
    const sampled = purge(14, { calls: [call({ time: later(6_900) }, 'not-stable-sampled')] });
    expect(sampled.limits?.[0]).toMatchObject({ choice: 'not-stable-sampled' });
    const on = purge(14, { calls: [call({ time: later(6_900) }, 'purging-continued')] });
    expect(on.limits?.[0]).not.toHaveProperty('choice');
    const resumed = [call({ time: later(3_000) }, 'stable'), call({ time: later(6_900) }, 'purging-continued')];
    expect(purge(14, { calls: resumed }).limits?.[0]).not.toHaveProperty('choice');
  });
});

describe('the limits of a plan', () => {
  // Army depot SOP-009, Rev. 1, April 2019 (seen): a cap of 6 readings.
  it('[A25] take the place of all those of the set: a cap of six readings', () => {
    const plan = { limits: { readings: 6 } };
    expect(purge(5, { plan }).limits).toMatchObject([{ of: 'readings', status: 'not-reached', from: 'plan' }]);
    const six = purge(6, { plan });
    expect(six.limits).toMatchObject([{ limit: '6', verified: true, status: 'reached', reachedAt: later(3_000) }]);
    expect(six.advice.map(({ sentence }) => sentence).join()).toContain('Not stable after 6 readings: keep purging');
    expect(purge(14, { plan: { limits: {} } })).not.toHaveProperty('limits');
  });

  it('[A25] are each looked at by itself', () => {
    const plan = { limits: { minutes: 240, readings: 20 } };
    expect(purge(21, { plan }).limits?.map(({ of, status }) => [of, status])).toEqual([
      ['minutes', 'not-reached'],
      ['readings', 'reached'],
    ]);
  });
});

describe('a limit in well volumes', () => {
  // SESDPROC-301-R3, from memory: up to five well volumes; ten feet of 2.00 in hold 6177.8 mL.
  const gauged = [level({ time: '09:50' }, 'before-purge', '22.10')];
  const casing = well({ casingInsideDiameterIn: '2.00', totalDepthFt: '32.10' });

  function volumes(drawn: readonly (string | undefined)[], more: object = {}) {
    const readings = drawn.map((purgedMl, index) =>
      reading(
        { time: later(index * 300) },
        { ...STEADY, ph: String(7 + index), ...(purgedMl === undefined ? {} : { purgedMl }) },
      ),
    );
    const given = { criteria: 'epa-region-4-well-volumes-2013', readings, levels: gauged, well: casing };
    return assess({ ...given, ...more }).limits?.[0];
  }

  it('[A25] is reached when as much was drawn', () => {
    expect(volumes(['6178', '24712', '30888'])).toMatchObject({ status: 'not-reached', limit: '5' });
    const reached = volumes([undefined, '24712', '30889', '40000']);
    expect(reached).toMatchObject({ status: 'reached', reachedAt: later(600) });
    expect(reached?.because).toContain('Not stable after 5 well volumes');
  });

  it.each([
    ['the casing', { well: well({ totalDepthFt: '32.10' }) }],
    ['the level', { levels: [] }],
    ['the well', { well: null }],
  ])('[A25] is not known without %s', (_, more) => {
    const limit = volumes(['6178', '24712', '30889'], more);
    expect(limit).toMatchObject({ status: 'not-known' });
    expect(limit?.because).toContain('5 well volumes cannot be told: record the casing');
  });

  it('[A25] is not known where nobody knows what was drawn', () => {
    expect(volumes([undefined, undefined])).toMatchObject({ status: 'not-known' });
    expect(volumes([])).toMatchObject({ status: 'not-known' });
  });
});

describe('a purge that went past the limit', () => {
  const twoHours = Array.from({ length: 14 }, (_, index) => ({
    at: later(index * 600).slice(11, 16),
    ph: '7.10',
    turbidityNtu: String(20 + (index % 2) * 20),
  }));

  function flags(given: VectorGiven): string[] {
    const { bundle } = vectorFacts({
      readings: twoHours,
      levels: [{ at: '09:50', depthToWaterFt: '12.00' }],
      ...given,
    });
    const { visit, well: theWell, levels, setUps, units } = bundle;
    const plan = { criteria: REGION_1 };
    const assessed = bundle.purges.map((one) => {
      const fields = assessPurge({ ...one, plan, visit, well: theWell, levels, setUps, units });
      return [one.purge.id, fields] as const;
    });
    return visitFlags(bundle, new Map(assessed)).map(({ rule }) => rule);
  }

  const left = { left: '2026-05-04T12:30:00-05:00' };

  it('[A25] is asked about when the crew left without a recorded choice, and not where a call has one', () => {
    expect(flags({ visit: left })).toContain('limit-without-choice');
    expect(flags({})).not.toContain('limit-without-choice');
    const calls = [{ at: '12:05', decision: 'not-stable-stopped' as const }];
    expect(flags({ visit: left, calls })).not.toContain('limit-without-choice');
    expect(flags({ visit: left, readings: twoHours.slice(0, 12) })).not.toContain('limit-without-choice');
  });
});
