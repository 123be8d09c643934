import type { RecordState } from '../protocol/record.ts';
import type { ClientContext } from './context.ts';
import { isReflected, newest, type Reach, reachOf } from './reflected.ts';
import type { OutboxEntry } from './store.ts';

/** Order of capture; mutation ids start anew with each client id. */
export function inOrder(entries: readonly OutboxEntry[]): OutboxEntry[] {
  return [...entries].sort((a, b) => a.sequence - b.sequence);
}

/** One record as this device knows it: what was synced, and its own mutations that it still keeps. */
export interface OwnWork {
  readonly synced: RecordState | null;
  /** In order of capture. */
  readonly entries: readonly OutboxEntry[];
  readonly reach: Reach;
}

export async function ownWorkOn(context: Pick<ClientContext, 'store'>, id: string): Promise<OwnWork> {
  const { store } = context;
  const entries = inOrder((await store.outbox()).filter((entry) => entry.id === id));
  return { synced: newest(await store.copies(id)), entries, reach: reachOf(await store.feeds()) };
}

/** Its mutations that the synced rows do not tell of yet. */
export function pendingOf(work: OwnWork): OutboxEntry[] {
  return work.entries.filter((entry) => !isReflected(entry, work.synced, work.reach));
}
