import { equipmentFacts } from '../equipment-facts.ts';
import { type EquipmentFinding, equipmentFindings } from '../faults.ts';
import type { EquipmentVectorGiven } from './equipment-vector.ts';
import { vectorRecords } from './vector-records.ts';

/** What all rules find in a case. */
export function replayVector(given: EquipmentVectorGiven): readonly EquipmentFinding[] {
  const records = vectorRecords(given);
  const wells = new Map(records.wells.map(({ id, fields }) => [id, fields]));
  const facts = equipmentFacts(records, {
    judgeDecon: ({ decon }) => {
      const isClean = Boolean(decon.fields.ended) && !decon.id.endsWith('incomplete');
      return { isClean, sentence: isClean ? 'Complete.' : 'Not every step is recorded.' };
    },
    isDayClosed: (_, day) => given.closed?.includes(day) ?? false,
    levelOf: ({ well }) => ({
      well,
      assignedClass: wells.get(well)?.assignedClass,
      results: given.lastResults?.[well] ?? [],
    }),
  });
  return equipmentFindings(facts);
}
