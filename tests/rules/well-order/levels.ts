import type { LastResult, WellLevel } from '../../../src/rules/well-order/well-level.ts';
import { rankWells } from '../../../src/rules/well-order/well-rank.ts';

export function pce(value: string | null, fields: Partial<LastResult> = {}): LastResult {
  const condition = value === null ? ('not-detected' as const) : ('detected' as const);
  return {
    analyte: 'tetrachloroethene',
    casNumber: '127-18-4',
    value,
    unit: 'ug/L',
    reportingLimit: '0.5',
    condition,
    ...fields,
  };
}

export function level(
  well: string,
  results: readonly LastResult[],
  assignedClass?: WellLevel['assignedClass'],
): WellLevel {
  return { well, results, assignedClass };
}

export function rankOf(levels: readonly WellLevel[]) {
  const ranks = rankWells(levels);
  return (well: string) => ranks.get(well);
}
