import type { RecordState } from '../../../protocol/record.ts';
import { type Entered, enteredOrder } from '../entered-order.ts';

interface Placed extends Entered {
  readonly state: RecordState;
}

interface Ends {
  first: Placed;
  last: Placed;
}

function enteredAt({ fields }: RecordState): string {
  return (fields.observed as { readonly at: string }).at;
}

/**
 * Of the readings of each meter in each purge the first and the last that stand, as a database gives them too: a meter is at
 * a well from the one to the other, is judged by the first, and nothing is asked of those between.
 */
export function readingEnds(readings: Iterable<RecordState>): readonly RecordState[] {
  const ends = new Map<unknown, Map<unknown, Ends>>();
  for (const state of readings) {
    const { meter, purge } = state.fields;
    if (state.voided !== null || typeof meter !== 'string') continue;
    const placed = { id: state.id, at: enteredAt(state), state };
    const ofPurge = ends.get(purge) ?? new Map<unknown, Ends>();
    ends.set(purge, ofPurge);
    const known = ofPurge.get(meter);
    if (!known) ofPurge.set(meter, { first: placed, last: placed });
    else if (enteredOrder(placed, known.first) < 0) known.first = placed;
    else if (enteredOrder(known.last, placed) < 0) known.last = placed;
  }
  const all = [...ends.values()].flatMap((ofPurge) => [...ofPurge.values()]);
  return all.flatMap(({ first, last }) => (first === last ? [first.state] : [first.state, last.state]));
}
