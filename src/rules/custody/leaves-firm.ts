import type { Change } from './custody-change.ts';
import { isNamedIn } from './same-person.ts';

type Sides = Pick<Change, 'relinquished' | 'received'>;

function organizations({ relinquished, received }: Sides): readonly [string, string] | null {
  const [from, to] = [relinquished?.organization, received?.organization];
  return from != null && to != null ? [from, to] : null;
}

/** A receipt is of the laboratory, however that is called: stored flags do not rest on its name. */
function isToLaboratory({ relinquished, received }: Sides): boolean {
  return relinquished !== null && received?.isReceipt === true;
}

/** From one to another of the same firm, as far as both said for whom they signed. */
export function isWithinFirm(change: Sides): boolean {
  const named = organizations(change);
  return named !== null && !isToLaboratory(change) && isNamedIn(...named);
}

/** From one firm to another: both said for whom they signed, or the laboratory recorded that it came. */
export function isToAnotherFirm(change: Sides): boolean {
  if (isToLaboratory(change)) return true;
  const named = organizations(change);
  return named !== null && !isNamedIn(...named);
}
