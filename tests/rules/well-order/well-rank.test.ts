import { describe, expect, it } from 'vitest';
import { dirtierThan } from '../../../src/rules/well-order/dirtier.ts';
import type { WellLevel } from '../../../src/rules/well-order/well-level.ts';
import { compareRanks, rankWells } from '../../../src/rules/well-order/well-rank.ts';
import { level, pce } from './levels.ts';

function sorted(levels: readonly WellLevel[]): string[] {
  return [...rankWells(levels).values()].toSorted(compareRanks).map(({ well }) => well);
}

describe('how contaminated a well is among the others', () => {
  it('goes by its highest result as a multiple of what the analyte is measured by', () => {
    const toluene = (value: string) => pce(value, { analyte: 'toluene', casNumber: '108-88-3', reportingLimit: '5' });
    const levels = [level('a', [pce('2.0'), toluene('100')]), level('b', [pce('50')]), level('c', [pce(null)])];
    const ranks = rankWells(levels);
    expect(ranks.get('a')).toMatchObject({ class: 'medium', analyte: 'toluene', times: { over: 20n, under: 1n } });
    expect(ranks.get('b')).toMatchObject({ class: 'medium', times: { over: 100n, under: 1n } });
    expect(ranks.get('c')).toMatchObject({ class: 'clean', times: { over: 0n }, analyte: null });
    expect(sorted(levels)).toEqual(['c', 'a', 'b']);
  });

  it('measures all wells alike: a limit raised by dilution does not make the dirtiest look clean', () => {
    const levels = [level('dirty', [pce('5000', { reportingLimit: '500' })]), level('other', [pce('20')])];
    expect(sorted(levels)).toEqual(['other', 'dirty']);
    expect(rankWells(levels).get('dirty')).toMatchObject({ class: 'high', times: { over: 10_000n, under: 1n } });
  });

  it('takes the limit of the plan before the reporting limit, and units as what they are', () => {
    const levels = [
      level('a', [pce('0.010', { unit: 'mg/L', reportingLimit: '0.0005', limit: '0.005' })]),
      level('b', [pce('20')]),
    ];
    const ranks = rankWells(levels);
    expect(ranks.get('a')?.times).toEqual({ over: 2n, under: 1n });
    expect(ranks.get('b')?.times).toEqual({ over: 4n, under: 1n });
  });

  it('puts a well with non-detects below high limits behind one with low ones', () => {
    expect(sorted([level('vague', [pce(null, { reportingLimit: '50' })]), level('sharp', [pce(null)])])).toEqual([
      'sharp',
      'vague',
    ]);
  });

  it('takes the worse of class and results, and says which it is', () => {
    const ranks = rankWells([
      level('a', [pce(null)], 'product'),
      level('b', [pce('500')], 'low'),
      level('c', [], 'medium'),
    ]);
    expect(ranks.get('a')).toMatchObject({ class: 'product', isAssigned: true });
    expect(ranks.get('b')).toMatchObject({ class: 'high', isAssigned: false });
    expect(ranks.get('c')).toMatchObject({ class: 'medium', isAssigned: true, times: null });
  });

  it('puts wells of which nothing is known behind clean and low ones and before the others', () => {
    const levels = [
      level('high', [], 'high'),
      level('unknown', []),
      level('medium', [], 'medium'),
      level('not reported', [pce(null, { condition: 'not-reported' })]),
      level('low', [], 'low'),
      level('clean', [], 'clean'),
    ];
    expect(sorted(levels)).toEqual(['clean', 'low', 'unknown', 'not reported', 'medium', 'high']);
  });
});

describe('dirtier than the next well', () => {
  const ranks = rankWells([
    level('500', [pce('500')]),
    level('50', [pce('50')]),
    level('5', [pce('5')]),
    level('nothing', [pce(null)]),
    level('high', [], 'high'),
    level('low', [], 'low'),
    level('unknown', []),
  ]);
  const rank = (well: string) => {
    const found = ranks.get(well);
    if (!found) throw new Error(`no ${well}`);
    return found;
  };
  const told = (before: string, next: string, factor = '10') => dirtierThan(rank(before), rank(next), factor);

  it('is more than the factor, not the factor itself', () => {
    expect(told('50', '5')).toBeNull();
    expect(told('50', '5', '9.9')).toMatchObject({ by: 'results', how: '10 times as much (tetrachloroethene)' });
    expect(told('500', '5')).toMatchObject({ by: 'results', how: '100 times as much (tetrachloroethene)' });
    expect(told('5', '500')).toBeNull();
  });

  it('takes what was not detected for as much as its base', () => {
    expect(told('5', 'nothing')).toBeNull();
    expect(told('50', 'nothing')).toMatchObject({ how: '100 times as much (tetrachloroethene)' });
  });

  it('goes by class where one of them has no results, and asks about a well of which nothing is known', () => {
    expect(told('high', 'low')).toEqual({ by: 'class', how: 'high before low' });
    expect(told('500', 'low')).toMatchObject({ by: 'class' });
    expect(told('high', 'unknown')).toMatchObject({ by: 'not-known' });
    expect(told('low', 'unknown')).toBeNull();
    expect(told('unknown', 'nothing')).toBeNull();
  });
});
