import type { RecordState } from '../protocol/record.ts';
import type { FeedState, OutboxEntry, StoredRecord } from './store.ts';

/** Up to which seq each feed is held. */
export type Reach = ReadonlyMap<string, number>;

export function reachOf(feeds: readonly FeedState[]): Reach {
  return new Map(feeds.map((state) => [state.feed, state.seq]));
}

/** The newest of the copies of a record: one that moves between feeds is for a while held in both. */
export function newest(copies: readonly StoredRecord[]): RecordState | null {
  return copies.reduce<RecordState | null>(
    (best, { record }) => (best === null || record.rev > best.rev ? record : best),
    null,
  );
}

/**
 * Do the synced rows already tell what this mutation did? Until then it is laid over them, also when the server has
 * answered but its row has not come, so that nothing flickers on the screen.
 */
export function isReflected(entry: OutboxEntry, synced: RecordState | null, reach: Reach): boolean {
  const { outcome } = entry;
  if (outcome?.outcome === 'refused') return true;
  // Its effect may come much later or never: shown while nothing else is, and listed for a person in any case.
  if (outcome?.outcome === 'set_aside') return synced !== null;
  // Also where the answer was lost and the row is here: only the answer says that the row is ours and not a twin's.
  if (outcome === null) return false;
  if (outcome.feed !== undefined && outcome.seq !== undefined) return (reach.get(outcome.feed) ?? -1) >= outcome.seq;
  return outcome.rev === undefined || (synced !== null && synced.rev >= outcome.rev);
}
