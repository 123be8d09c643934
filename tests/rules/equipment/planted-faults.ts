import { type CrewDay, cleanedBy } from './crew-day.ts';
import { at, type Day, voided } from './equipment-day.ts';

export function found<Item>(items: readonly Item[], is: (item: Item) => boolean): Item {
  const item = items.find(is);
  if (!item) throw new Error('the day of the test has no such record');
  return item;
}

export const deconOf = (day: Day, unit: string, began: string) =>
  found(day.lists.decons, ({ fields }) => fields.unit === unit && fields.began === at(began));
const stepOf = (day: Day, decon: string, step: string) =>
  found(day.lists.deconSteps, ({ fields }) => fields.decon === decon && fields.step === step);
const partOf = (day: Day, part: string) => found(day.lists.parts, ({ id }) => id === part);

/** One fault each, none where another is. */
export const PLANTED: Readonly<Record<string, (given: CrewDay) => void>> = {
  'used-unit-into-well': ({ day }) => voided(deconOf(day, 'P-1', '08:55')),
  'unit-not-known-clean': ({ day }) => {
    day.unit('R-1', { type: 'water-level-tape', ownership: 'rented' });
    day.service('R-1', 'arrived', '06:00');
    day.level('v34', 'R-1', '14:30');
  },
  'decon-incomplete-at-next-use': ({ day }) => voided(stepOf(day, deconOf(day, 'P-2', '08:55').id, 'distilled-rinse')),
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
  'discarded-part-used-again': ({ day }) => {
    day.part('hose-9', { type: 'hose' });
    day.change('P-1', 'hose-9', 'installed', '07:40');
    day.change('P-1', 'hose-9', 'discarded', '08:52');
    day.change('P-1', 'hose-9', 'installed', '13:50');
    day.change('P-1', 'hose-9', 'removed', '14:52');
  },
  'part-of-another-well': ({ day }) => {
    day.part('line-9', { type: 'tubing', dedicatedTo: 'MW-11' });
    day.change('P-2', 'line-9', 'installed', '13:50');
    day.change('P-2', 'line-9', 'removed', '14:52');
  },
  'soft-part-not-renewed': ({ day }) => {
    cleanedBy(day, deconOf(day, 'P-2', '12:55'), 'pump-flush');
    voided(
      found(
        day.lists.partChanges,
        (change) => change.fields.part === 'bladder-23' && change.fields.action === 'discarded',
      ),
    );
  },
  'fluoropolymer-part-at-pfas-well': ({ day }) => {
    Object.assign(partOf(day, 'bladder-34').fields, { material: 'PTFE' });
    Object.assign(found(day.lists.wells, ({ id }) => id === 'MW-34').fields, { contaminants: ['pfas'] });
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
