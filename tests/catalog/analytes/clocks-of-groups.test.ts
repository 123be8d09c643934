import { describe, expect, it } from 'vitest';
import { analyteGroup } from '../../../src/catalog/analytes/analyte-groups.ts';
import { inFillOrder } from '../../../src/catalog/analytes/fill-orders.ts';
import { isRefusal } from '../../../src/science/refusal.ts';
import { allotWater } from '../../../src/science/samples/allot-water.ts';
import { bottleSetMl, fillTimeS } from '../../../src/science/samples/fill-time.ts';
import { holdingClocks, type SampleTimes } from '../../../src/science/samples/holding-clocks.ts';
import { atPlace } from '../../../src/science/samples/instants.ts';
import { judgeReceiptTemperature } from '../../../src/science/samples/receipt-temperature.ts';

function group(id: string) {
  const found = analyteGroup(id);
  if (!found) throw new Error(`no group ${id}`);
  return found;
}

function clocks(id: string, times: SampleTimes) {
  const readings = holdingClocks(group(id).holding[0]?.limits ?? [], times);
  if (isRefusal(readings)) throw new Error(readings.refused);
  return readings;
}

describe('clocks of groups', () => {
  it.each([
    ['nitrate', '2025-03-08T14:00:00-05:00', '2025-03-10T15:00:00-04:00'],
    ['metals-total', '2025-08-31T12:00:00-04:00', '2026-02-27T11:00:00-05:00'],
    ['volatiles', '2025-10-25T09:00:00-04:00', '2025-11-08T08:00:00-05:00'],
    ['semivolatiles', '2026-05-04T10:00:00-04:00', '2026-05-11T10:00:00-04:00'],
  ])('%s of %s is due first on %s in New York', (id, collectedAt, due) => {
    expect(atPlace(clocks(id, { collectedAt })[0]?.dueAt ?? '', 'America/New_York')).toBe(due);
  });

  it.each([
    [
      'extracted on day 6.9, analysed 39 d after',
      '2026-05-11T07:36:00Z',
      '2026-06-19T07:36:00Z',
      ['in-time', 'in-time'],
    ],
    ['extracted on day 7.1', '2026-05-11T12:24:00Z', '2026-06-19T07:36:00Z', ['late', 'in-time']],
  ])('semivolatiles %s', (_what, extractedAt, analysedAt, states) => {
    const times = { collectedAt: '2026-05-04T10:00:00Z', extractedAt, analysedAt };
    expect(clocks('semivolatiles', times).map(({ state }) => state)).toEqual(states);
  });
});

describe('temperature at receipt by container', () => {
  const judge = (id: string, readingC: string | null) => {
    const { atMostC, mayFreeze } = group(id).cooling;
    return judgeReceiptTemperature({ readingC, atMostC, mayFreeze, isSameDayOnIce: false });
  };

  it('at 7 °C metals are untouched and volatiles are not; without a number nothing has failed', () => {
    expect([judge('metals-total', '7'), judge('volatiles', '7'), judge('volatiles', null)]).toEqual([
      'no-limit',
      'too-warm',
      'not-recorded',
    ]);
  });

  it('at -0.2 °C all but PFAS by 1633 may have suffered', () => {
    expect([judge('metals-total', '-0.2'), judge('volatiles', '-0.2'), judge('pfas-1633', '-0.2')]).toEqual([
      'below-zero',
      'below-zero',
      'within',
    ]);
  });
});

describe('filling by the catalog', () => {
  it('a vial takes 24 s at the most that its group allows', () => {
    const { filling, container } = group('volatiles');
    expect(fillTimeS(container.bottles.volumeMl, filling.rate?.atMostMlPerMin ?? 0)).toBe(24);
  });

  it('with 900 mL of what four groups need, priorities of the catalog fill vials, metals and ions, not the litres', () => {
    const some = ['metals-total', 'sulfate', 'semivolatiles', 'volatiles'].map(group);
    const needs = some
      .toSorted((a, b) => a.shortWater.priority - b.shortWater.priority)
      .map(({ id, container, shortWater: { leastCount, leastVolumeMl } }) => ({
        id,
        ...container.bottles,
        leastCount,
        leastVolumeMl,
      }));
    expect(bottleSetMl(needs)).toBe(2_495);
    expect(allotWater(needs, 900).map(({ id, share }) => `${id} ${share}`)).toEqual([
      'volatiles whole',
      'semivolatiles none',
      'metals-total whole',
      'sulfate whole',
    ]);
    expect(inFillOrder(some, 'epa-1992', 'first').map((one) => one.group.id)).toEqual(needs.map(({ id }) => id));
  });
});
