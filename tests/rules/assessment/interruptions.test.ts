import { describe, expect, it } from 'vitest';
import { OCCURRENCE_TYPES } from '../../../src/protocol/kinds/occurrence.ts';
import { assess, at, idOf, later, occurrence, reading, STEADY } from './purge-fixture.ts';

const A = idOf('meter A');
const B = idOf('meter B');

function read(time: string, fields: Parameters<typeof reading>[1] = {}) {
  return reading({ time }, { ...STEADY, ...fields });
}

const five = ['10:00', '10:05', '10:10', '10:15', '10:20'].map((time) => read(time, { flowMlPerMin: '200' }));

describe('a swapped meter', () => {
  const before = [read('10:00', { meter: A }), read('10:05', { meter: A })];
  const until = (last: number) =>
    ['10:10', '10:15', '10:20', '10:25'].slice(0, last).map((time) => read(time, { meter: B }));
  const swap = (time: string, meter?: string) => occurrence({ time }, 'meter-swapped', meter ? { meter } : {});

  it('[A4] restarts the window: A at 10:00, 10:05, B at 10:10, 10:15, 10:20 is stable at 10:25 at the earliest', () => {
    expect(assess({ readings: [...before, ...until(3)] }).stable).toBe(false);
    const result = assess({ readings: [...before, ...until(4)] });
    expect(result.firstHeldAt).toBe(at('10:25'));
    expect(assess({ readings: [...before, ...until(3)] }).missing).toEqual([
      '2 of 3 readings at least 5 min apart since the meter was swapped.',
    ]);
  });

  it.each([
    ['noted between', swap('10:07')],
    ['noted between, with the new meter', swap('10:07', B)],
    ['noted at once after the last reading of the old one', swap('10:05:30', B)],
    ['noted at the first reading of the new one', swap('10:10', B)],
    ['noted after the first reading of the new one', swap('10:12', B)],
  ])('[A4] restarts once, when the swap is %s', (_, noted) => {
    const result = assess({ readings: [...before, ...until(4)], occurrences: [noted] });
    expect(result.firstHeldAt).toBe(at('10:25'));
  });

  it('[A4] restarts by what was noted where the readings name no meter', () => {
    const readings = [...five, read('10:25')];
    expect(assess({ readings, occurrences: [swap('10:07')] }).firstHeldAt).toBe(at('10:25'));
    expect(assess({ readings }).firstHeldAt).toBe(at('10:10'));
  });

  it('[A4] starts the clock with the first reading also where the plan counts the next reading at once', () => {
    const result = assess({ readings: [...before, ...until(4)], plan: { afterInterruption: 'next-reading' } });
    expect(result.firstHeldAt).toBe(at('10:25'));
  });

  it('[A4] restarts nothing before the first reading', () => {
    expect(assess({ readings: five, occurrences: [swap('09:59', B)] }).firstHeldAt).toBe(at('10:10'));
  });
});

describe('interruptions', () => {
  const interrupting = [
    'pump-stopped',
    'pump-restarted',
    'sensor-recalibrated',
    'cell-cleaned',
    'intake-moved',
    'drive-gas-in-discharge',
    'flow-changed',
    'meter-swapped',
  ] as const;

  it.each(interrupting)(
    '[A4] %s restarts the window: the first reading that counts comes one interval later',
    (type) => {
      const result = assess({ readings: five, occurrences: [occurrence({ time: '10:06' }, type)] });
      expect(result.stable).toBe(false);
      expect(result.missing[0]).toMatch(/^2 of 3 readings at least 5 min apart since /);
      expect(result.decisions).toContainEqual(
        expect.objectContaining({ option: 'afterInterruption', choice: 'one-interval' }),
      );
      expect(result.advice).toContainEqual({
        code: 'interrupted',
        sentence: expect.stringContaining('count anew since'),
      });
    },
  );

  it.each(OCCURRENCE_TYPES.filter((type) => !(interrupting as readonly string[]).includes(type)))(
    '[A4] %s restarts nothing',
    (type) => {
      expect(assess({ readings: five, occurrences: [occurrence({ time: '10:06' }, type)] }).firstHeldAt).toBe(
        at('10:10'),
      );
    },
  );

  it('[A4] lets the next reading count where the plan says so', () => {
    const purge = { readings: five, occurrences: [occurrence({ time: '10:06' }, 'cell-cleaned' as const)] };
    expect(assess({ ...purge, plan: { afterInterruption: 'next-reading' } }).firstHeldAt).toBe(at('10:20'));
  });

  it('[A4] lets a reading count at once that comes a full interval after it', () => {
    const purge = { readings: five, occurrences: [occurrence({ time: '10:05:20' }, 'cell-cleaned' as const)] };
    expect(assess(purge).firstHeldAt).toBe(at('10:20'));
  });

  it('[A4] counts from the last of several', () => {
    const occurrences = [
      occurrence({ time: '10:01' }, 'pump-stopped'),
      occurrence({ time: '10:04' }, 'pump-restarted'),
      occurrence({ time: '10:04:30' }, 'cell-cleaned'),
    ];
    const result = assess({ readings: [...five, read('10:25')], occurrences });
    expect(result.firstHeldAt).toBe(at('10:20'));
  });

  it('[A4] restarts nothing by what happens after the last reading: the pump stops when the bottles are full', () => {
    const result = assess({ readings: five, occurrences: [occurrence({ time: '10:40' }, 'pump-stopped')] });
    expect(result.stable).toBe(true);
  });

  it('[A7] leaves out an occurrence that was voided', () => {
    const occurrences = [occurrence({ time: '10:18', voided: true }, 'pump-stopped')];
    expect(assess({ readings: five, occurrences }).stable).toBe(true);
  });

  it('[A4] keeps counting nothing while no reading is far enough from the interruption', () => {
    const result = assess({ readings: five, occurrences: [occurrence({ time: '10:19' }, 'pump-restarted')] });
    expect(result.window).toEqual([]);
    expect(result.missing[0]).toBe('0 of 3 readings at least 5 min apart since the pump was restarted.');
    expect(result.firstHeldAt).toBe(at('10:10'));
  });
});

describe('a change of flow', () => {
  const flows = (...all: (string | undefined)[]) =>
    all.map((flow, index) => read(later(index * 300), flow === undefined ? {} : { flowMlPerMin: flow }));
  const changed = (flowMlPerMin?: string) =>
    occurrence({ time: '10:06' }, 'flow-changed', flowMlPerMin ? { flowMlPerMin } : {});

  it.each([
    ['200', '220', true],
    ['200', '221', false],
    ['200', '180', true],
    ['200', '179', false],
    ['0', '200', false],
  ])('[A4] from %s to %s mL/min keeps the window at the default of 10 percent: %s', (from, to, keeps) => {
    expect(assess({ readings: flows(from, from, to) }).stable).toBe(keeps);
    const noted = assess({ readings: flows(from, from, undefined), occurrences: [changed(to)] });
    expect(noted.stable).toBe(keeps);
  });

  it('[A4] takes the share of the plan', () => {
    expect(assess({ readings: flows('200', '200', '250'), plan: { flowChangePercent: '25' } }).stable).toBe(true);
    expect(assess({ readings: flows('200', '200', '201'), plan: { flowChangePercent: '0' } }).stable).toBe(false);
  });

  it('[A4] restarts where nobody knows by how much it was changed', () => {
    expect(assess({ readings: flows('200', '200', undefined), occurrences: [changed()] }).stable).toBe(false);
    expect(assess({ readings: flows(undefined, undefined, undefined), occurrences: [changed('200')] }).stable).toBe(
      false,
    );
  });

  it('[A4] does not restart twice when the reading shows the change that was noted', () => {
    const readings = flows('200', '200', '300', '300', '300', '300');
    expect(assess({ readings, occurrences: [changed('300')] }).firstHeldAt).toBe(later(1_500));
    expect(assess({ readings }).firstHeldAt).toBe(later(1_500));
  });

  it('[A4] says in the conditions between which flows the window lies', () => {
    expect(assess({ readings: flows('205', '200', '208') }).conditions.flow).toMatchObject({
      status: 'steady',
      smallestMlPerMin: '200',
      largestMlPerMin: '208',
    });
    expect(assess({ readings: flows('200', '210', '221') }).conditions.flow.status).toBe('changed');
    expect(assess({ readings: flows(undefined, '210', undefined) }).conditions.flow.status).toBe('steady');
    expect(
      assess({
        readings: five.map(({ fields, ...rest }) => ({
          ...rest,
          fields: { ...fields, flowMlPerMin: undefined },
        })) as typeof five,
      }).conditions.flow.status,
    ).toBe('not-known');
  });
});
