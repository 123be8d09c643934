import { equipmentFacts } from '../../../src/rules/equipment/equipment-facts.ts';
import type { EquipmentRecords } from '../../../src/rules/equipment/equipment-records.ts';
import { equipmentFindings } from '../../../src/rules/equipment/faults.ts';
import { CREWS, type CrewDay, cleanDay } from './crew-day.ts';
import type { Day } from './equipment-day.ts';

/** Buffers 4, 7 and 10, one after another. */
export function buffers(day: Day, meter: string, time: string): void {
  for (const buffer of ['4.00', '7.00', '10.00'])
    day.check(meter, time, buffer, { nominal: buffer, valueAtTemperature: buffer });
}

/** The clean day with what meters read and the checks that vouch for it: buffers in the morning and in the evening. */
export function checkedDay(): CrewDay {
  const given = cleanDay();
  const { day } = given;
  for (const crew of CREWS) {
    buffers(day, `M-${crew}`, '07:40');
    buffers(day, `M-${crew}`, '17:00');
  }
  for (const reading of day.lists.readings) Object.assign(reading.fields, { ph: '6.98' });
  return given;
}

const EVENT = { kind: 'event', id: 'event-1', rev: 1, voided: null, client: null, clock: null };
const PLAN = {
  equipment: { rinsatePer: 'unit-and-day', partLotsRequired: ['bladder'] },
  calibration: { set: 'florida-field-testing' },
} as const;

export function checkedFindings({ levels }: CrewDay, records: EquipmentRecords, isClosed?: boolean) {
  const facts = equipmentFacts(
    { ...records, events: [{ ...EVENT, fields: { plan: PLAN } }] },
    {
      ...(isClosed === undefined ? {} : { isDayClosed: () => isClosed }),
      levelOf: ({ well }) => levels.get(well) ?? { well, results: [] },
    },
  );
  return equipmentFindings(facts);
}
