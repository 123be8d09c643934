import type { ClientContext } from './context.ts';
import { inOrder } from './own-work.ts';
import type { OutboxEntry } from './store.ts';

/** What the server has not answered for yet. */
export interface Unsent {
  readonly count: number;
  /** Capture time of the first of them, as the device's clock showed it. */
  readonly oldest: string | null;
  /** Between that and `now`; 0 when the clock was set back since. */
  readonly ageMs: number | null;
}

export function unsentOf(entries: readonly OutboxEntry[], now: string): Unsent {
  const unsent = inOrder(entries.filter((entry) => entry.outcome === null));
  const oldest = unsent[0]?.captured ?? null;
  const ageMs = oldest === null ? null : Math.max(0, Date.parse(now) - Date.parse(oldest));
  return { count: unsent.length, oldest, ageMs };
}

export async function unsent({ store }: ClientContext, now: string): Promise<Unsent> {
  return unsentOf(await store.outbox(), now);
}
