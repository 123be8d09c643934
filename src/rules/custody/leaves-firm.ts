import type { CoolerFacts } from './cooler-facts.ts';
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

function isNamedAmong(firms: readonly (string | null | undefined)[], texts: readonly (string | null | undefined)[]) {
  return firms.some((firm) => firm != null && texts.some((text) => text != null && isNamedIn(firm, text)));
}

/**
 * Whether anything tells that it went to a carrier, to a laboratory or to another firm. Much is not told yet while a cooler is
 * packed: who takes it over signs on a phone of their own, and a locked room signs nothing.
 */
export function showsAnotherFirm(change: Change, { cooler, custody, laboratoryName }: CoolerFacts): boolean {
  const { relinquished, received, isCarrierLeg } = change;
  if (isWithinFirm(change)) return false;
  if (isCarrierLeg || received?.isReceipt) return true;
  const { carrier, trackingNumber } = cooler.fields;
  // a carrier signs nothing
  if (!received && trackingNumber != null && change === custody.changes.at(-1)) return true;
  const { organization = null } = received ?? {};
  if (isNamedAmong([carrier, laboratoryName], [relinquished?.to, organization, received?.name])) return true;
  const own = custody.changes.flatMap((one) => one.relinquished?.organization ?? [])[0];
  if (own === undefined) return false;
  return [relinquished?.organization, organization].some((one) => one != null && !isNamedIn(own, one));
}

/** From one firm to another: both said for whom they signed, or the laboratory recorded that it came. */
export function isToAnotherFirm(change: Sides): boolean {
  if (isToLaboratory(change)) return true;
  const named = organizations(change);
  return named !== null && !isNamedIn(...named);
}
