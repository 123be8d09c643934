import { describe, expect, it } from 'vitest';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import type { EquipmentRecords } from '../../../src/rules/equipment/equipment-records.ts';
import { isOnDuring } from '../../../src/rules/equipment/part-stay.ts';
import { type CrewDay, cleanDay, findingsOf } from './crew-day.ts';
import { ENDED_IS_CLEAN, voided } from './equipment-day.ts';
import { deconOf, found, PLANTED } from './planted-faults.ts';

const codesOf = (given: CrewDay) => findingsOf(given, given.day.lists).map(({ code }) => code);

describe('a day of three crews with ten shared units', () => {
  it('raises nothing where everything is as it should be, neither while it goes on nor at its close', () => {
    const given = cleanDay();
    expect(findingsOf(given, given.day.lists, false)).toEqual([]);
    expect(findingsOf(given, given.day.lists)).toEqual([]);
  });

  it.each(Object.keys(PLANTED))('finds "%s" where it is planted, and nothing else', (code) => {
    const given = cleanDay();
    PLANTED[code]?.(given);
    expect(codesOf(given)).toEqual([code]);
  });

  it('finds every fault once where all are planted, and invents none', () => {
    const given = cleanDay();
    for (const plant of Object.values(PLANTED)) plant(given);
    expect(codesOf(given)).toEqual(Object.keys(PLANTED).toSorted());
  });

  it('finds the same in any order of arrival', () => {
    const given = cleanDay();
    for (const plant of Object.values(PLANTED)) plant(given);
    const wanted = findingsOf(given, given.day.lists);
    for (let turn = 1; turn <= 5; turn += 1) expect(findingsOf(given, shuffled(given.day.lists, turn))).toEqual(wanted);
  });

  it('knows the soft parts at each well by one walk as by looking at each of them', () => {
    const { day } = cleanDay();
    for (const plant of Object.values(PLANTED)) plant({ day, levels: new Map(cleanDay().levels) });
    const index = equipmentIndex(day.lists, ENDED_IS_CLEAN);
    const contacts = [...index.lines.values()].flatMap(({ wet }) => wet);
    expect(contacts.length).toBeGreaterThan(30);
    for (const contact of contacts) {
      const stays = index.staysOfUnit.get(contact.unit) ?? [];
      expect(index.staysDuring.get(contact)).toEqual(stays.filter((stay) => isOnDuring(stay, contact)));
    }
  });

  it('tells the crew now only while it is at the well', () => {
    const given = cleanDay();
    PLANTED['used-unit-into-well']?.(given);
    const [atNight] = findingsOf(given, given.day.lists);
    expect(atNight).toMatchObject({ addressee: 'tonight', certainty: 'certain', subject: 'v12', of: 'P-1' });
    const visit = found(given.day.lists.visits, ({ id }) => id === 'v12');
    Object.assign(visit.fields, { left: null });
    expect(findingsOf(given, given.day.lists)[0]).toMatchObject({ addressee: 'now', severity: 'caution' });
  });

  it('tells of a meter that was not rinsed at the truck, as a note', () => {
    const given = cleanDay();
    voided(deconOf(given.day, 'M-1', '08:53'));
    Object.assign(found(given.day.lists.visits, ({ id }) => id === 'v12').fields, { left: null });
    expect(findingsOf(given, given.day.lists)).toMatchObject([
      { code: 'used-unit-into-well', of: 'M-1', addressee: 'tonight', severity: 'note' },
    ]);
  });
});

/** Another order for each turn, the same in each run. */
function shuffled(records: EquipmentRecords, turn: number): EquipmentRecords {
  const place = (at: number) => (at * 7_919 + turn * 104_729 + ((at * at * turn) % 1_009)) % 10_007;
  const mixed = Object.entries(records).map(([name, list]) => {
    const items = (list as readonly unknown[]).map((item, at) => ({ item, place: place(at) }));
    return [name, items.toSorted((a, b) => a.place - b.place).map(({ item }) => item)];
  });
  return Object.fromEntries(mixed) as EquipmentRecords;
}
