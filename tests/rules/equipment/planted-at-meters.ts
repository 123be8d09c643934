import { buffers } from './checked-day.ts';
import { type CrewDay, cleanedBy } from './crew-day.ts';
import { at, type Day, voided } from './equipment-day.ts';
import { deconOf, found } from './planted-faults.ts';

const checksOf = (day: Day, meter: string, time: string) =>
  day.lists.checks.filter(({ fields }) => fields.unit === meter && fields.observed.at === at(time));
const unitOf = (day: Day, unit: string) => found(day.lists.units, ({ id }) => id === unit);
const setUpOf = (day: Day, visit: string) => found(day.lists.setUps, ({ fields }) => fields.visit === visit);

/** One fault each, none where another is; on the day on which the meters were checked. */
export const PLANTED_AT_METERS: Readonly<Record<string, (given: CrewDay) => void>> = {
  'meter-not-checked': ({ day }) => checksOf(day, 'M-1', '07:40').forEach(voided),
  'meter-check-after-missing': ({ day }) => checksOf(day, 'M-2', '17:00').forEach(voided),
  'meter-check-failed': ({ day }) => {
    for (const check of checksOf(day, 'M-3', '17:00').slice(0, 1)) Object.assign(check.fields, { reading: '4.40' });
  },
  'standard-expired': ({ day }) => {
    for (const check of checksOf(day, 'M-1', '17:00')) Object.assign(check.fields, { standardExpires: '2026-04-30' });
  },
  'standards-not-around-value': ({ day }) => {
    day.unit('M-4', { type: 'multi-parameter-meter' });
    cleanedBy(day, day.decon('M-4', '07:00', '07:30'), 'meter-rinse');
    buffers(day, 'M-4', '07:40');
    day.reading('v14', 'M-4', '14:18', { ph: '3.10' });
    buffers(day, 'M-4', '17:00');
  },
  'rated-pressure-exceeded': ({ day }) => {
    Object.assign(unitOf(day, 'P-1').fields, { maximumPressurePsi: '100' });
    Object.assign(setUpOf(day, 'v13').fields, { drivePressurePsi: '120' });
  },
  'pump-below-rated-depth': ({ day }) => {
    Object.assign(unitOf(day, 'P-2').fields, { maximumDepthFt: '100' });
    Object.assign(setUpOf(day, 'v21').fields, { intakeDepthFt: '110' });
  },
  'suction-pump-with-volatiles': ({ day }) => {
    day.unit('S-1', { type: 'peristaltic-pump' });
    day.setUp('v22', 'S-1', '10:06');
  },
  'leaching-tubing-with-organics': ({ day }) =>
    Object.assign(setUpOf(day, 'v31').fields, { tubingMaterial: 'flexible PVC' }),
  'nitric-acid-on-stainless': ({ day }) => {
    Object.assign(unitOf(day, 'P-3').fields, { wettedParts: [{ part: 'housing', material: 'stainless steel' }] });
    day.step(deconOf(day, 'P-3', '07:00').id, 'acid', '07:10', { fluid: '0.1 N nitric acid' });
  },
  'used-after-failed-check': ({ day }) =>
    day.service('T-3', 'length-checked', '07:45', { result: 'fail', dueNext: '2026-07-10' }),
  'decon-not-for-class': ({ day }) => {
    Object.assign(found(day.lists.wells, ({ id }) => id === 'MW-23').fields, { contaminants: ['pfas'] });
    cleanedBy(day, deconOf(day, 'T-2', '12:51'), 'pfas-free-rinse');
  },
  'decon-water-without-drum': ({ day }) => Object.assign(deconOf(day, 'P-1', '07:00').fields, { wasteTo: null }),
  'unit-of-another-crew': ({ day }) => {
    day.signOut('P-4', 'crew-2', '06:30');
    day.use('v14', 'P-4', '14:20', '14:30', 'beside-the-well');
  },
  'tubing-moved-between-wells': ({ day }) => {
    cleanedBy(day, deconOf(day, 'P-3', '08:55'), 'pump-flush');
    day.part('line-7', { type: 'tubing' });
    day.change('P-3', 'line-7', 'installed', '07:40');
    day.change('P-3', 'line-7', 'removed', '10:53');
  },
};
