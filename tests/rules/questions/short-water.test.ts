import { describe, expect, it } from 'vitest';
import { shortWater } from '../../../src/rules/questions/short-water.ts';

const bottles = [
  { group: 'sulfate', volumeMl: '250' },
  { group: 'volatiles', count: 3 },
  { group: 'metals-total', volumeMl: '500' },
  { group: 'semivolatiles', count: 2 },
];
const ask = (availableMl: string, more: object = {}) =>
  shortWater.answer(shortWater.input.parse({ availableMl, bottles, ...more }));

describe('short water', () => {
  it('says with 900 mL of the 2,870 mL needed what is filled, what is dropped and who agrees', () => {
    const told = ask('900');
    expect(told).toMatchObject({ neededMl: '2870', filledMl: '870', leftMl: '30', refused: null });
    expect(
      told.shares.map(({ group, share, fillCount, fillVolumeMl }) => [group, share, fillCount, fillVolumeMl]),
    ).toEqual([
      ['volatiles', 'whole', 3, '40'],
      ['semivolatiles', 'none', 0, '0'],
      ['metals-total', 'whole', 1, '500'],
      ['sulfate', 'whole', 1, '250'],
    ]);
    expect(told.fillOrder).toEqual(['volatiles', 'metals-total', 'sulfate']);
    expect(told.dropped).toEqual(['semivolatiles']);
    expect(told.whoAgrees).toContain('agrees before a container is dropped');
    expect(told.shares[1]).toMatchObject({ leastCount: 1, leastVolumeMl: '1000', neededCount: 2 });
  });

  it('fills one litre for semivolatiles before metals where there is water for it', () => {
    expect(ask('1200').shares.map(({ group, fillCount }) => [group, fillCount])).toEqual([
      ['volatiles', 1],
      ['semivolatiles', 1],
      ['metals-total', 1],
      ['sulfate', 1],
    ]);
  });

  it('goes by the priorities and least volumes that are given', () => {
    const given = [
      { group: 'volatiles', count: 1, priority: 9 },
      { group: 'semivolatiles', count: 1, leastVolumeMl: '500', priority: 1 },
    ];
    expect(ask('520', { bottles: given })).toMatchObject({ dropped: ['volatiles'], filledMl: '520' });
  });

  it('needs nobody where there is water for all', () => {
    expect(ask('2870')).toMatchObject({ whoAgrees: null, dropped: [], leftMl: '0' });
  });

  it('refuses a group that the catalog does not hold, water below zero and a bottle that takes nothing', () => {
    expect(ask('900', { bottles: [{ group: 'unheard-of' }] }).refused).toContain('unheard-of');
    expect(ask('-1').refused).toContain('-1 mL');
    expect(ask('900', { bottles: [{ group: 'volatiles', volumeMl: '0' }] }).refused).toContain('above 0');
  });
});
