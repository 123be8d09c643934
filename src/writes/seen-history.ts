import { type PlaceHere, placesHere } from '../store/write/seen-places.ts';
import type { WriteTx } from '../store/write/transaction.ts';
import type { Batch, Misfit, SeenPlace } from './batch.ts';

const WITNESS_BYTES = 8;

function misfitOf(seen: SeenPlace | null, here: ReadonlyMap<string, PlaceHere>): Misfit | null {
  if (seen === null) return { feed: null, reason: 'unknown_cursor' };
  const { feed, seq, epoch, history } = seen;
  const place = here.get(`${feed} ${seq}`);
  if (place === undefined || place.epoch !== epoch) return { feed, reason: 'other_epoch' };
  if (seq === 0) return null;
  if (place.historyHash === null) return { feed, reason: 'future' };
  const witness = place.historyHash.subarray(0, WITNESS_BYTES).toString('hex');
  return witness === history ? null : { feed, reason: 'other_history' };
}

/**
 * The batches whose lines name revisions of a history that is not the one here. Asked under the lock: a push may have
 * been on its way while the data was set back, and a revision then stands for a change that its author never saw.
 */
export async function misfits(tx: WriteTx, batches: readonly Batch[]): Promise<ReadonlyMap<Batch, Misfit>> {
  const seen = batches.flatMap((batch) => (batch.seen ?? []).filter((place) => place !== null));
  const places = new Map(seen.map((place) => [`${place.feed} ${place.seq}`, place]));
  const feeds = [...places.values()].map(({ feed }) => feed);
  const seqs = [...places.values()].map(({ seq }) => seq);
  const rows = places.size === 0 ? [] : await placesHere(tx, feeds, seqs);
  const here = new Map(rows.map((row) => [`${row.feed} ${row.seq}`, row]));
  const found = new Map<Batch, Misfit>();
  for (const batch of batches) {
    for (const place of batch.seen ?? []) {
      const misfit = misfitOf(place, here);
      if (misfit) found.set(batch, misfit);
    }
  }
  return found;
}
