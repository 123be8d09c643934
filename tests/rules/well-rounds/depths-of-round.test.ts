import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { vectorId } from '../../../src/rules/flags/vector-ids.ts';
import { convertedText, roundsToday } from '../../../src/rules/well-rounds/depths-of-round.ts';
import { depthBelow, type Mark, marksOf } from '../../../src/rules/well-rounds/marks.ts';
import { MOST_VISITS, wellRecords } from '../../../src/rules/well-rounds/well-records.ts';
import { AT, CUT_DOWN, DATUM, POINTS, point, records, summary, WELL } from './records-of-a-well.ts';

const depths = { depthToWaterFt: '12.30', lowestDepthToWaterFt: '12.5', intakeDepthFt: '20', depthToBottomFt: '25.1' };

describe('the earlier rounds of a well', () => {
  it('are those of the well that stand, newest first, and not without end', () => {
    const other = { ...summary(2020), fields: { ...summary(2020).fields, well: vectorId(99) } };
    const voided = { ...summary(2021), voided: { reason: 'wrong', by: null } };
    const found = records([summary(2018), other, summary(2022), voided, summary(2019)]);
    expect(found.summaries.map(({ eventName }) => eventName)).toEqual([
      'Round of 2022',
      'Round of 2019',
      'Round of 2018',
    ]);
    const many = Array.from({ length: MOST_VISITS + 5 }, (_, index) => summary(2000 + index));
    expect(wellRecords(WELL, many, []).summaries).toHaveLength(MOST_VISITS);
  });

  it('come in one order, whatever the order of the records, also at one moment', () => {
    const at = { arrived: '2020-05-04T09:30:00-05:00' };
    const all = [summary(2018, at), summary(2019, at), summary(2020, at), summary(2021)];
    const wanted = records(all).summaries;
    fc.assert(
      fc.property(fc.shuffledSubarray(all, { minLength: all.length }), (shuffled) => {
        expect(records(shuffled).summaries).toEqual(wanted);
      }),
    );
  });
});

describe('depths below the measuring point of today', () => {
  it('stand as they are where the well has had one mark, whatever they cite', () => {
    const cited = { ...depths, measuringPoint: POINTS.first, bottomMeasuringPoint: POINTS.corrected };
    for (const points of [[], CUT_DOWN.slice(0, 1), CUT_DOWN.slice(0, 2)]) {
      const [round] = roundsToday(records([summary(2012, cited)], points), { at: AT });
      expect(round).toMatchObject({ round: depths, converted: false, leftOut: [] });
    }
  });

  it('are of one mark where only the elevation was corrected', () => {
    const marks = marksOf(records([], CUT_DOWN).points);
    expect(marks.map(({ points, elevationFt }) => [points, elevationFt])).toEqual([
      [[POINTS.first, POINTS.corrected], '102.41'],
      [[POINTS.raised], '101.91'],
    ]);
    const alone = marksOf(records([], [point(POINTS.corrected, 2015, 'error-corrected')]).points);
    expect(alone).toEqual([{ points: [POINTS.corrected], elevationFt: undefined, datum: undefined }]);
  });

  it('are less by what was cut off the casing, to the digits given', () => {
    const cited = { ...depths, measuringPoint: POINTS.first, bottomMeasuringPoint: POINTS.corrected };
    const [round] = roundsToday(records([summary(2012, cited)], CUT_DOWN), { at: AT });
    expect(round).toMatchObject({
      round: {
        depthToWaterFt: '11.80',
        lowestDepthToWaterFt: '12.00',
        intakeDepthFt: '19.50',
        depthToBottomFt: '24.60',
      },
      converted: true,
      leftOut: [],
    });
    expect(convertedText([round].flatMap((one) => one ?? []))).toEqual([expect.stringContaining('1 earlier visit')]);
  });

  it('go by the point that was valid at the visit where none is cited, and today by the one given', () => {
    const found = (at: string, more: object = {}) =>
      roundsToday(records([summary(2012, depths)], CUT_DOWN), { at, ...more })[0]?.round.depthToWaterFt;
    expect(found(AT)).toBe('11.80');
    expect(found('2021-01-01T00:00:00Z')).toBe('12.30');
    expect(found(AT, { measuringPoint: POINTS.first })).toBe('12.30');
  });

  it.each([
    ['no elevation is known', [point(POINTS.first, 2010, 'first', DATUM), CUT_DOWN[2]]],
    ['no elevation of today is known', [CUT_DOWN[0], point(POINTS.raised, 2022, 'casing-changed', DATUM)]],
    ['no datum is known', [point(POINTS.first, 2010, 'first', { elevationFt: '102.31' }), CUT_DOWN[2]]],
    ['the datum is another', [point(POINTS.first, 2010, 'first', { elevationFt: '2.1', datum: 'site' }), CUT_DOWN[2]]],
  ])('are left out with the reason where %s', (_, points) => {
    const all = points.flatMap((one) => one ?? []);
    const [round] = roundsToday(records([summary(2012, depths)], all), { at: AT });
    expect(round?.round).not.toHaveProperty('depthToWaterFt', expect.anything());
    expect(round?.leftOut.map(({ field }) => field)).toEqual(Object.keys(depths));
    expect(round?.leftOut[0]).toMatchObject({ depthFt: '12.30', because: expect.stringContaining('elevations') });
  });

  it('are left out where nobody knows below which mark they were measured, then or today', () => {
    const before = roundsToday(records([summary(2005, depths)], CUT_DOWN), { at: AT });
    const unknown = roundsToday(records([summary(2012, depths)], CUT_DOWN), { at: AT, measuringPoint: vectorId(98) });
    for (const [round] of [before, unknown]) {
      expect(round?.leftOut).toHaveLength(4);
      expect(round?.leftOut[0]?.because).toContain('not known');
    }
    const single = roundsToday(records([summary(2012, depths)], CUT_DOWN.slice(0, 1)), {
      at: AT,
      measuringPoint: vectorId(98),
    });
    expect(single[0]?.leftOut).toHaveLength(4);
  });

  it('come back to themselves when they are converted there and back', () => {
    const mark = (name: string, elevationFt: string): Mark => ({ points: [name], elevationFt, datum: 'NAVD 88' });
    const cents = fc.integer({ min: -5_000, max: 100_000 }).map((value) => (value / 100).toFixed(2));
    fc.assert(
      fc.property(cents, cents, cents, (depthFt, one, other) => {
        const there = depthBelow(depthFt, mark('a', one), mark('b', other), false);
        if (!('depthFt' in there)) throw new Error(there.because);
        expect(Number(there.depthFt) - Number(depthFt)).toBeCloseTo(Number(other) - Number(one), 9);
        expect(depthBelow(there.depthFt, mark('b', other), mark('a', one), false)).toEqual({
          depthFt,
          converted: true,
        });
      }),
    );
  });
});
