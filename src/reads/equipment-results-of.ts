import { byKey } from '../rules/equipment/by-key.ts';
import type { EquipmentIndex } from '../rules/equipment/equipment-index.ts';
import { type AnalytesAsked, equipmentResults } from '../store/read/equipment-results.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { resultRecord } from './unit-equipment.ts';

/**
 * The same index with what laboratories found in these samples and blanks; of those that are not among them, it knows
 * what it knew.
 *
 * @param asked some analytes; null for all
 */
export async function withResults(
  tx: ReadTx,
  index: EquipmentIndex,
  subjects: readonly string[],
  asked: AnalytesAsked | null,
): Promise<EquipmentIndex> {
  if (subjects.length === 0) return index;
  const results = (await equipmentResults(tx, subjects, asked)).map(resultRecord);
  const ofSample = byKey(results, ({ fields }) => fields.sample);
  const ofBlank = byKey(results, ({ fields }) => fields.blank);
  return {
    ...index,
    resultsOfSample: new Map([...index.resultsOfSample, ...ofSample]),
    resultsOfBlank: new Map([...index.resultsOfBlank, ...ofBlank]),
  };
}

interface Analyte {
  readonly analyte: string;
  readonly casNumber?: string | null | undefined;
}

/** As the database looks for them. */
export function analytesAsked(analytes: readonly Analyte[]): AnalytesAsked {
  return {
    casNumbers: [...new Set(analytes.flatMap(({ casNumber }) => (casNumber ? [casNumber] : [])))],
    names: [...new Set(analytes.map(({ analyte }) => analyte.trim().toLowerCase()))],
  };
}
