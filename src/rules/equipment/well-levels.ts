import { analyteKeys } from '../decon/analyte-key.ts';
import type { WellLevel } from '../well-order/well-level.ts';
import { byKey, firstWhere } from './by-key.ts';
import type { Contact } from './contact.ts';
import type { EquipmentIndex } from './equipment-index.ts';
import type { ResultRecord } from './equipment-records.ts';
import type { PlacedSample } from './touched-samples.ts';

/** What was known of a well when a unit went in. */
export type LevelOf = (contact: Pick<Contact, 'well' | 'from'>) => WellLevel;

/** Of each analyte the results of the last visit that was asked for it. */
function lastResults(index: EquipmentIndex, earliestFirst: readonly PlacedSample[]): readonly ResultRecord['fields'][] {
  const found: ResultRecord['fields'][] = [];
  const lastVisit = new Map<string, string>();
  for (const { record } of earliestFirst.toReversed()) {
    const { visit } = record.fields;
    for (const { fields } of index.resultsOfSample.get(record.id) ?? []) {
      const keys = fields.condition === 'not-reported' ? [] : analyteKeys(fields);
      if (keys.length === 0 || keys.some((key) => (lastVisit.get(key) ?? visit) !== visit)) continue;
      for (const key of keys) lastVisit.set(key, visit);
      found.push(fields);
    }
  }
  return found;
}

/**
 * How contaminated a well was taken to be: by the results of what was sampled there before the unit went in, and by the
 * class that the office gave it. What was sampled later says nothing of what a crew could know.
 */
export function wellLevels(index: EquipmentIndex): LevelOf {
  const samples = byKey([...index.samples.values()], ({ record }) => index.visits.get(record.fields.visit)?.well);
  const known = new Map<string, WellLevel>();
  return ({ well, from }) => {
    const all = samples.get(well) ?? [];
    const before = firstWhere(all, ({ collected }) => collected.ms >= from.ms);
    const key = `${well} ${before}`;
    const assignedClass = index.wells.get(well)?.fields.assignedClass;
    const level = known.get(key) ?? { well, assignedClass, results: lastResults(index, all.slice(0, before)) };
    known.set(key, level);
    return level;
  };
}
