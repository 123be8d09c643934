import type { ClientContext } from './context.ts';
import { overlay, type ViewRecord } from './overlay.ts';
import { inOrder, ownWorkOn } from './own-work.ts';
import { newest, reachOf } from './reflected.ts';
import type { OutboxEntry, StoredRecord } from './store.ts';

/** One record as the app shows it. */
export function viewOne(context: ClientContext, id: string): Promise<ViewRecord | null> {
  return context.exclusive(async () => overlay(await ownWorkOn(context, id)));
}

function byId<Item>(items: readonly Item[], idOf: (item: Item) => string): Map<string, Item[]> {
  const groups = new Map<string, Item[]>();
  for (const item of items) {
    const group = groups.get(idOf(item));
    if (group) group.push(item);
    else groups.set(idOf(item), [item]);
  }
  return groups;
}

async function allOf({ store }: ClientContext, kind: string): Promise<ViewRecord[]> {
  const copies = byId<StoredRecord>(await store.recordsOfKind(kind), ({ record }) => record.id);
  const own = byId<OutboxEntry>(inOrder((await store.outbox()).filter((entry) => entry.kind === kind)), ({ id }) => id);
  const reach = reachOf(await store.feeds());
  const ids = [...new Set([...copies.keys(), ...own.keys()])].sort();
  return ids.flatMap(
    (id) => overlay({ synced: newest(copies.get(id) ?? []), entries: own.get(id) ?? [], reach }) ?? [],
  );
}

/** Every record of a kind as the app shows it, voided ones included, by id: which is by time of making. */
export function viewAll(context: ClientContext, kind: string): Promise<ViewRecord[]> {
  return context.exclusive(() => allOf(context, kind));
}
