import type { CoolerFacts } from './cooler-facts.ts';
import { standingOf } from './cooler-standing.ts';
import { isToAnotherFirm } from './leaves-firm.ts';
import { keptUntil } from './nights.ts';

/**
 * When a cooler went on its way, as signed; null while those who sample still have it. Both sides of a change belong
 * together: that the clock of a colleague who took it is behind sends it nowhere.
 */
export function leftAt(facts: CoolerFacts): string | null {
  const { changes } = facts.custody;
  const { standing } = standingOf(facts);
  const isKept = standing === 'kept' || standing === 'being-packed';
  if ((isKept && !changes.some(isToAnotherFirm)) || !changes.some(({ relinquished }) => relinquished)) return null;
  return keptUntil(facts);
}
