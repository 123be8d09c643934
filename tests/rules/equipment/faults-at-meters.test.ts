import { describe, expect, it } from 'vitest';
import { EQUIPMENT_RULES } from '../../../src/rules/equipment/faults.ts';
import { checkedDay, checkedFindings } from './checked-day.ts';
import type { CrewDay } from './crew-day.ts';
import { voided } from './equipment-day.ts';
import { PLANTED_AT_METERS } from './planted-at-meters.ts';
import { found, PLANTED } from './planted-faults.ts';

const codesOf = (given: CrewDay) => checkedFindings(given, given.day.lists).map(({ code }) => code);

describe('a day of three crews with ten shared units, whose meters were checked', () => {
  it('raises nothing where everything is as it should be, neither while it goes on nor at its close', () => {
    const given = checkedDay();
    expect(checkedFindings(given, given.day.lists, false)).toEqual([]);
    expect(checkedFindings(given, given.day.lists)).toEqual([]);
  });

  it.each(Object.keys(PLANTED_AT_METERS))('finds "%s" where it is planted, and nothing else', (code) => {
    const given = checkedDay();
    PLANTED_AT_METERS[code]?.(given);
    expect(codesOf(given)).toEqual([code]);
  });

  it('finds every fault once where all are planted, and invents none', () => {
    const given = checkedDay();
    for (const plant of Object.values(PLANTED_AT_METERS)) plant(given);
    expect(codesOf(given)).toEqual(Object.keys(PLANTED_AT_METERS).toSorted());
  });

  it('finds the same whatever the order of arrival', () => {
    const given = checkedDay();
    for (const plant of Object.values(PLANTED_AT_METERS)) plant(given);
    const { lists } = given.day;
    const reversed = Object.fromEntries(Object.entries(lists).map(([name, list]) => [name, list.toReversed()]));
    expect(checkedFindings(given, reversed as unknown as typeof lists)).toEqual(checkedFindings(given, lists));
  });

  it('plants every rule that no other day plants', () => {
    const planted = [...Object.keys(PLANTED), ...Object.keys(PLANTED_AT_METERS)];
    expect(planted.toSorted()).toEqual(EQUIPMENT_RULES.map(({ code }) => code).toSorted());
  });

  it('does not change with the second reading of a visit: only the first is looked at', () => {
    const given = checkedDay();
    PLANTED_AT_METERS['meter-check-failed']?.(given);
    const before = checkedFindings(given, given.day.lists);
    given.day.reading('v31', 'M-3', '08:48', { ph: '6.90', turbidityNtu: '3.2' });
    expect(checkedFindings(given, given.day.lists)).toEqual(before);
  });

  it('tells a crew now that its meter was not checked, while it is at the well', () => {
    const given = checkedDay();
    PLANTED_AT_METERS['meter-not-checked']?.(given);
    expect(checkedFindings(given, given.day.lists)[0]).toMatchObject({ addressee: 'tonight', severity: 'caution' });
    Object.assign(found(given.day.lists.visits, ({ id }) => id === 'v14').fields, { left: null });
    expect(checkedFindings(given, given.day.lists)[0]).toMatchObject({ addressee: 'now', severity: 'caution' });
  });

  it('counts no check that was voided, and none of a plan that names no limits', () => {
    const given = checkedDay();
    given.day.lists.checks.forEach(voided);
    expect(codesOf(given)).toEqual(['meter-not-checked', 'meter-not-checked', 'meter-not-checked']);
  });
});
