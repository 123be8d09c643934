import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { WELL_CLASSES } from '../../../src/protocol/kinds/well.ts';
import { orderDeviations, orderWells, type WellToDo } from '../../../src/rules/well-order/order-wells.ts';
import { compareRanks, rankWells } from '../../../src/rules/well-order/well-rank.ts';
import { level, pce, rankOf } from './levels.ts';

const toDo = (well: string, ...sharedDownhole: string[]): WellToDo => ({ well, sharedDownhole });
const named = (id: string) => id;

describe('the order of wells', () => {
  it('goes from the least to the most contaminated; a well with its own pump keeps its place', () => {
    const levels = [
      level('A', [pce('500')]),
      level('B', [pce('900')]),
      level('C', [pce(null)]),
      level('D', [pce('3')]),
    ];
    const wells = [toDo('A', 'P-1'), toDo('B'), toDo('C', 'P-1'), toDo('D', 'P-1')];
    expect(orderWells(wells, rankOf(levels)).map(({ well }) => well)).toEqual(['C', 'B', 'D', 'A']);
  });

  it('lists nothing behind a blank between two wells, and what comes from a dirtier one after it', () => {
    const levels = [level('A', [pce('500')]), level('B', [pce('40')]), level('C', [pce(null)])];
    const wells = ['A', 'B', 'C'].map((well) => toDo(well, 'P-1'));
    const behind = (gap: string) =>
      orderDeviations(wells, rankOf(levels), named, undefined, (_, a, b) => `${a.well}${b.well}` === gap);
    expect(behind('AB').map(({ well, after }) => [well, after])).toEqual([['C', 'B']]);
    expect(behind('BC').map(({ well, after }) => [well, after])).toEqual([['B', 'A']]);
  });

  it('lists where a planned order goes from dirty to clean with the same gear', () => {
    const levels = [
      level('A', [pce('500')]),
      level('B', [pce('40')]),
      level('C', [pce(null)]),
      level('D', [pce(null)]),
    ];
    const wells = [toDo('A', 'P-1', 'line-1'), toDo('B', 'P-1'), toDo('C', 'P-2'), toDo('D')];
    expect(orderDeviations(wells, rankOf(levels), named)).toEqual([
      {
        well: 'B',
        after: 'A',
        shared: ['P-1'],
        by: 'results',
        sentence:
          'B comes after A with the same P-1: 12 times as much (tetrachloroethene). Do it before, or take an equipment blank in between.',
      },
    ]);
    expect(orderDeviations(wells, rankOf(levels), named, '20')).toEqual([]);
  });

  it('measures by the dirtiest before, not by the last', () => {
    const levels = [level('A', [pce('500')]), level('B', [pce('60')]), level('C', [pce('9')])];
    const wells = ['A', 'B', 'C'].map((well) => toDo(well, 'P-1'));
    expect(orderDeviations(wells, rankOf(levels), named)).toMatchObject([{ well: 'C', after: 'A' }]);
  });

  const wellSets = fc.array(
    fc.record({
      value: fc.option(fc.option(fc.integer({ min: 1, max: 9_999_999 }).map((one) => (one / 100).toFixed(2)))),
      assigned: fc.option(fc.constantFrom(...WELL_CLASSES)),
      units: fc.subarray(['P-1', 'P-2', 'line-1']),
      limit: fc.constantFrom('0.5', '5', '50'),
    }),
    { maxLength: 14 },
  );
  const given = wellSets.map((set) => {
    const wells = set.map(({ units }, at) => toDo(`MW-${at}`, ...units));
    const levels = set.map(({ value, assigned, limit }, at) =>
      // null: no result at all; an inner null: not detected
      level(`MW-${at}`, value === null ? [] : [pce(value, { reportingLimit: limit })], assigned),
    );
    return { wells, levels, known: rankOf(levels) };
  });

  it('is a permutation, and leaves wells with gear of their own where they are', () => {
    fc.assert(
      fc.property(given, ({ wells, known }) => {
        const order = orderWells(wells, known);
        expect(order.map(({ well }) => well).toSorted()).toEqual(wells.map(({ well }) => well).toSorted());
        for (const [at, well] of wells.entries()) if (well.sharedDownhole.length === 0) expect(order[at]).toBe(well);
      }),
    );
  });

  it('is stable: what is equal stays in its order, and ordering twice changes nothing', () => {
    fc.assert(
      fc.property(given, ({ wells, levels, known }) => {
        const order = orderWells(wells, known);
        expect(orderWells(order, known)).toEqual(order);
        const ranks = rankWells(levels);
        const shared = order.filter(({ sharedDownhole }) => sharedDownhole.length > 0);
        for (const [at, next] of shared.entries()) {
          const [a, b] = [shared[at - 1], next].map((one) => one && ranks.get(one.well));
          if (!a || !b) continue;
          const apart = compareRanks(a, b);
          expect(apart).toBeLessThanOrEqual(0);
          if (apart === 0) expect(wells.indexOf(shared[at - 1] as WellToDo)).toBeLessThan(wells.indexOf(next));
        }
      }),
    );
  });

  it('has no deviation, by any factor', () => {
    fc.assert(
      fc.property(given, fc.constantFrom('1', '1.5', '10', '100'), ({ wells, known }, factor) => {
        expect(orderDeviations(orderWells(wells, known), known, named, factor)).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });

  it('turned round deviates wherever it can', () => {
    const levels = [level('A', [pce(null)]), level('B', [pce('60')]), level('C', [pce('9000')])];
    const wells = ['C', 'B', 'A'].map((well) => toDo(well, 'P-1'));
    expect(orderDeviations(wells, rankOf(levels), named).map(({ well }) => well)).toEqual(['B', 'A']);
  });
});
