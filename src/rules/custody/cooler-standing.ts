import { arrivalOf } from './arrival.ts';
import type { CoolerFacts } from './cooler-facts.ts';
import { isNamedIn } from './same-person.ts';

export interface CoolerStanding {
  readonly standing: 'being-packed' | 'kept' | 'on-the-way' | 'at-laboratory';
  readonly holder: string | null;
  readonly since: string | null;
}

/** Where a cooler is now, by what was recorded last. */
export function standingOf({ cooler, custody, receipts, handOvers, laboratoryName }: CoolerFacts): CoolerStanding {
  const last = custody.changes.at(-1);
  const arrival = arrivalOf(receipts, handOvers);
  if (arrival) {
    const { receivedBy = null, received } = arrival.receipt.fields;
    const holder = laboratoryName ?? receivedBy;
    return { standing: 'at-laboratory', holder, since: arrival.isTooEarly ? null : received };
  }
  const { organization = null } = last?.received ?? {};
  if (last?.received && laboratoryName !== null && organization !== null && isNamedIn(laboratoryName, organization)) {
    return { standing: 'at-laboratory', holder: last.received.name, since: last.received.at };
  }
  if (last?.received) return { standing: 'kept', holder: last.received.name, since: last.received.at };
  if (last?.relinquished) {
    const holder = last.relinquished.to ?? cooler.fields.carrier ?? null;
    return { standing: 'on-the-way', holder, since: last.relinquished.at };
  }
  const { packed = null } = cooler.fields;
  return { standing: packed === null ? 'being-packed' : 'kept', holder: null, since: packed };
}
