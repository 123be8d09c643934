import type { SetUpRecord } from '../equipment-records.ts';
import { compareMoments, momentOf } from '../moment.ts';
import type { EquipmentFacts } from './equipment-rule.ts';

/** How a pump was last set up at a visit: what was set otherwise before was mended. */
export interface LastSetUp {
  readonly record: SetUpRecord;
  readonly pump: string;
  readonly visit: string;
  readonly well: string;
}

function placedAt(record: SetUpRecord) {
  return momentOf(record, record.fields.observed.at, record.fields.observed);
}

/** Earliest first. */
export function inOrderOfSetUp(records: readonly SetUpRecord[]): readonly SetUpRecord[] {
  return records.toSorted((a, b) => compareMoments(placedAt(a), placedAt(b)));
}

/** Of every visit the last set-up of each pump. */
export function lastSetUps({ index }: EquipmentFacts): readonly LastSetUp[] {
  return [...index.setUpsOfVisit].flatMap(([id, records]) => {
    const visit = index.visits.get(id);
    if (!visit) return [];
    const last = new Map(inOrderOfSetUp(records).map((record) => [record.fields.pump, record]));
    return [...last].map(([pump, record]) => ({ record, pump, visit: id, well: visit.well }));
  });
}
