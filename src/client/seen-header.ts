import type { PushHeader } from '../protocol/sync.ts';
import { versionOf } from './batch.ts';
import type { LineState } from './context.ts';
import type { CarriedEntry } from './store.ts';

/** Before that version a header may not have it, and the lines would never be taken. */
const SEEN_SINCE = 3;

/** What the header of a push says of the histories that its lines cite, where its reader knows of that. */
export function seenHeader(
  { serverVersion }: Pick<LineState, 'serverVersion'>,
  { schemaVersion, seen }: { readonly schemaVersion: number; readonly seen: readonly string[] },
): Pick<PushHeader, 'seen'> {
  const isRead = schemaVersion >= SEEN_SINCE || (serverVersion ?? 0) >= SEEN_SINCE;
  return isRead && seen.length > 0 ? { seen: [...seen] } : {};
}

/**
 * A line whose history would be left out only because it is not known yet whether the server reads it: without one the
 * server believes the revision that is cited, where it was set back and nobody said so.
 */
export function waitsForVersion(
  { serverVersion }: Pick<LineState, 'serverVersion'>,
  entry: Pick<CarriedEntry, 'schemaVersion' | 'seen'>,
): boolean {
  return serverVersion === null && entry.seen !== undefined && versionOf(entry) < SEEN_SINCE;
}
