import { rankWells } from '../../well-order/well-rank.ts';
import { equipmentIndex } from '../equipment-index.ts';
import { type EquipmentFinding, equipmentFindings } from '../faults.ts';
import type { JudgeByBlank } from '../judged-sample.ts';
import type { EquipmentVectorGiven } from './equipment-vector.ts';
import { vectorRecords } from './vector-records.ts';

/** What all rules find in a case. */
export function replayVector(given: EquipmentVectorGiven, judge: JudgeByBlank): readonly EquipmentFinding[] {
  const index = equipmentIndex(vectorRecords(given), ({ decon }) => {
    const isClean = Boolean(decon.fields.ended) && !decon.id.endsWith('incomplete');
    return { isClean, sentence: isClean ? 'Complete.' : 'Not every step is recorded.' };
  });
  const levels = [...index.wells].map(([well, { fields }]) => ({
    well,
    assignedClass: fields.assignedClass,
    results: given.lastResults?.[well] ?? [],
  }));
  const ranks = rankWells(levels);
  return equipmentFindings({
    index,
    plan: given.plan ?? {},
    isDayClosed: (day) => given.closed?.includes(day) ?? false,
    rankOf: (well) => ranks.get(well),
    judge,
  });
}
