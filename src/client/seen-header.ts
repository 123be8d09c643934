import type { PushHeader } from '../protocol/sync.ts';
import type { LineState } from './context.ts';

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
