import type {
  CarriedEntry,
  Change,
  ClientStore,
  Drop,
  FeedState,
  Identity,
  OutboxEntry,
  Put,
  StoredRecord,
} from './store.ts';

/** Everything that a phone keeps, in memory. */
export interface Contents {
  identity: Identity | null;
  readonly entries: Map<string, OutboxEntry>;
  readonly carried: Map<string, CarriedEntry>;
  readonly feeds: Map<string, FeedState>;
  readonly records: Map<string, Map<string, StoredRecord>>;
}

export function noContents(): Contents {
  return { identity: null, entries: new Map(), carried: new Map(), feeds: new Map(), records: new Map() };
}

/** Names a mutation among those of all clients. */
export function mutationKey({ client, mutationId }: { readonly client: string; readonly mutationId: number }): string {
  return `${client} ${mutationId}`;
}

function recordsIn(contents: Contents, feed: string): Map<string, StoredRecord> {
  const records = contents.records.get(feed) ?? new Map<string, StoredRecord>();
  contents.records.set(feed, records);
  return records;
}

function put(contents: Contents, change: Put): void {
  switch (change.put) {
    case 'identity':
      contents.identity = change.identity;
      return;
    case 'entry':
      contents.entries.set(mutationKey(change.entry), change.entry);
      return;
    case 'carried':
      contents.carried.set(mutationKey(change.carried), change.carried);
      return;
    case 'feed':
      contents.feeds.set(change.state.feed, change.state);
      return;
    case 'record':
      recordsIn(contents, change.stored.feed).set(change.stored.record.id, change.stored);
  }
}

function drop(contents: Contents, change: Drop): void {
  switch (change.drop) {
    case 'entry':
      contents.entries.delete(mutationKey(change));
      return;
    case 'carried':
      contents.carried.delete(mutationKey(change));
      return;
    case 'record':
      contents.records.get(change.feed)?.delete(change.id);
      return;
    case 'feed':
      contents.feeds.delete(change.feed);
      contents.records.delete(change.feed);
  }
}

export function applyChanges(contents: Contents, changes: readonly Change[]): void {
  for (const change of changes) 'put' in change ? put(contents, change) : drop(contents, change);
}

/** The least that, applied to nothing, gives these contents again. */
export function changesFor(contents: Contents): Change[] {
  const { identity, entries, carried, feeds, records } = contents;
  return [
    ...(identity === null ? [] : [{ put: 'identity' as const, identity }]),
    ...[...entries.values()].map((entry): Change => ({ put: 'entry', entry })),
    ...[...carried.values()].map((one): Change => ({ put: 'carried', carried: one })),
    ...[...feeds.values()].map((state): Change => ({ put: 'feed', state })),
    ...[...records.values()].flatMap((held) => [...held.values()].map((stored): Change => ({ put: 'record', stored }))),
  ];
}

export type Questions = Omit<ClientStore, 'commit'>;

/** Asked for at every look of a screen: no list is made of the thousands of others. */
function ofKind(contents: Contents, kind: string): StoredRecord[] {
  const found: StoredRecord[] = [];
  for (const records of contents.records.values()) {
    for (const stored of records.values()) if (stored.record.kind === kind) found.push(stored);
  }
  return found;
}

/** The questions of a store. Each answer is a list of its own, which no later commit changes. */
export function questionsOf(contents: Contents): Questions {
  return {
    identity: async () => contents.identity,
    outbox: async () => [...contents.entries.values()],
    carried: async () => [...contents.carried.values()],
    feeds: async () => [...contents.feeds.values()],
    recordsOfFeed: async (feed) => [...(contents.records.get(feed)?.values() ?? [])],
    recordsOfKind: async (kind) => ofKind(contents, kind),
    copies: async (id) => [...contents.records.values()].flatMap((records) => records.get(id) ?? []),
    held: async (feed, ids) => ids.flatMap((id) => contents.records.get(feed)?.get(id) ?? []),
  };
}
