import { describe, expect, it } from 'vitest';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import type { EquipmentRecords } from '../../../src/rules/equipment/equipment-records.ts';
import { EQUIPMENT_RULES } from '../../../src/rules/equipment/faults.ts';
import { isOnDuring } from '../../../src/rules/equipment/part-stay.ts';
import { type CrewDay, cleanDay, findingsOf } from './crew-day.ts';
import { at, type Day, ENDED_IS_CLEAN, voided } from './equipment-day.ts';

function found<Item>(items: readonly Item[], is: (item: Item) => boolean): Item {
  const item = items.find(is);
  if (!item) throw new Error('the day of the test has no such record');
  return item;
}

const deconOf = (day: Day, unit: string, began: string) =>
  found(day.lists.decons, ({ fields }) => fields.unit === unit && fields.began === at(began));
const stepOf = (day: Day, decon: string) => found(day.lists.deconSteps, ({ fields }) => fields.decon === decon);
const partOf = (day: Day, part: string) => found(day.lists.parts, ({ id }) => id === part);

/** One fault each, none where another is. */
const PLANTED: Readonly<Record<string, (given: CrewDay) => void>> = {
  'used-unit-into-well': ({ day }) => voided(deconOf(day, 'P-1', '08:55')),
  'unit-not-known-clean': ({ day }) => {
    day.unit('R-1', { type: 'water-level-tape', ownership: 'rented' });
    day.service('R-1', 'arrived', '06:00');
    day.level('v34', 'R-1', '14:30');
  },
  'decon-incomplete-at-next-use': ({ day }) =>
    Object.assign(deconOf(day, 'P-2', '08:55').fields, { labelText: 'incomplete' }),
  'unit-out-of-service-used': ({ day }) => day.service('T-2', 'out-of-service', '13:30'),
  'unit-in-two-wells': ({ day }) => {
    day.well('MW-91');
    day.visit('v91', 'MW-91', '08:20', '08:30');
    day.setUp('v91', 'P-3', '08:20');
  },
  'disposable-used-again': ({ day }) => {
    day.unit('B-1', { type: 'other', use: 'disposable' });
    day.use('v11', 'B-1', '08:10', '08:40');
    day.use('v12', 'B-1', '10:10', '10:40');
  },
  'discarded-part-used-again': ({ day }) =>
    Object.assign(stepOf(day, deconOf(day, 'P-1', '12:55').id).fields, { part: 'bladder-12' }),
  'part-of-another-well': ({ day }) => {
    day.part('line-9', { type: 'tubing', dedicatedTo: 'MW-11' });
    day.change('P-2', 'line-9', 'installed', '13:50');
    day.change('P-2', 'line-9', 'removed', '14:52');
  },
  'soft-part-not-renewed': ({ day }) => {
    const { id } = deconOf(day, 'P-2', '12:55');
    const step = stepOf(day, id);
    const { part: _, ...fields } = step.fields;
    day.lists.deconSteps[day.lists.deconSteps.indexOf(step)] = {
      ...step,
      fields: { ...fields, done: false, deviation: 'none left in the truck' },
    };
    voided(
      found(
        day.lists.partChanges,
        (change) => change.fields.part === 'bladder-23' && change.fields.action === 'discarded',
      ),
    );
  },
  'fluoropolymer-part-at-pfas-well': ({ day }) => {
    Object.assign(partOf(day, 'bladder-33').fields, { material: 'PTFE' });
    Object.assign(found(day.lists.wells, ({ id }) => id === 'MW-33').fields, { contaminants: ['pfas'] });
  },
  'rinsate-missing': ({ day }) => voided(found(day.lists.blanks, ({ id }) => id === 'EB-3')),
  'unit-left-uncleaned': ({ day }) => voided(deconOf(day, 'P-1', '14:55')),
  'part-lot-missing': ({ day }) => Object.assign(partOf(day, 'bladder-22').fields, { lot: null }),
  'tape-check-overdue': ({ day }) =>
    Object.assign(found(day.lists.services, ({ fields }) => fields.unit === 'T-1').fields, { dueNext: '2026-05-01' }),
  'service-overdue': ({ day }) =>
    Object.assign(found(day.lists.services, ({ fields }) => fields.unit === 'P-1').fields, { dueNext: '2026-05-01' }),
  'dirty-to-clean': ({ levels }) => {
    const dirty = found([...levels.values()], ({ well }) => well === 'MW-32');
    const results = dirty.results.map((result) => ({ ...result, value: '90000' }));
    levels.set('MW-32', { ...dirty, results });
    levels.set('MW-33', { ...dirty, well: 'MW-33', results: results.map((result) => ({ ...result, value: '95000' })) });
    levels.set('MW-34', { ...dirty, well: 'MW-34', results: results.map((result) => ({ ...result, value: '9' })) });
  },
  'drive-gas-with-water': ({ day }) => day.occurrence('v21', 'drive-gas-in-discharge', '08:30'),
  'equipment-blank-failed': ({ day }) =>
    Object.assign(found(day.lists.results, ({ fields }) => fields.blank === 'EB-2').fields, {
      condition: 'detected',
      value: '0.8',
    }),
};

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

  it('plants every rule', () => {
    expect(Object.keys(PLANTED).toSorted()).toEqual(EQUIPMENT_RULES.map(({ code }) => code).toSorted());
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
