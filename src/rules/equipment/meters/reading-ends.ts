import type { RecordState } from '../../../protocol/record.ts';
import { instantMs } from '../../../science/instant-ms.ts';

interface Placed {
  readonly state: RecordState;
  readonly ms: number;
}

interface Ends {
  first: Placed;
  last: Placed;
}

/** By the times as entered and then by id: see `enteredOrder`. */
function isBefore(a: Placed, b: Placed): boolean {
  return a.ms === b.ms ? a.state.id < b.state.id : a.ms < b.ms;
}

function enteredMs({ fields }: RecordState): number {
  return instantMs((fields.observed as { readonly at: string }).at);
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
    const placed = { state, ms: enteredMs(state) };
    const ofPurge = ends.get(purge) ?? new Map<unknown, Ends>();
    ends.set(purge, ofPurge);
    const known = ofPurge.get(meter);
    if (!known) ofPurge.set(meter, { first: placed, last: placed });
    else if (isBefore(placed, known.first)) known.first = placed;
    else if (isBefore(known.last, placed)) known.last = placed;
  }
  const all = [...ends.values()].flatMap((ofPurge) => [...ofPurge.values()]);
  return all.flatMap(({ first, last }) => (first === last ? [first.state] : [first.state, last.state]));
}
