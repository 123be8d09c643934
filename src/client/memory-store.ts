import type { ClientStore, Drop, FeedState, Identity, OutboxEntry, Put, StoredRecord } from './store.ts';

interface Contents {
  identity: Identity | null;
  readonly entries: Map<string, OutboxEntry>;
  readonly feeds: Map<string, FeedState>;
  readonly records: Map<string, Map<string, StoredRecord>>;
}

function entryKey(client: string, mutationId: number): string {
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
      contents.entries.set(entryKey(change.entry.client, change.entry.mutationId), change.entry);
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
      contents.entries.delete(entryKey(change.client, change.mutationId));
      return;
    case 'record':
      contents.records.get(change.feed)?.delete(change.id);
      return;
    case 'feed':
      contents.feeds.delete(change.feed);
      contents.records.delete(change.feed);
  }
}

function some<Value>(values: Iterable<Value>, wanted: (value: Value) => boolean): Value[] {
  return [...values].filter(wanted);
}

/** Everything in memory, for tests, simulations and a look around. A commit has no await in it, so it cannot be torn. */
export function memoryStore(): ClientStore {
  const contents: Contents = { identity: null, entries: new Map(), feeds: new Map(), records: new Map() };
  const everyRecord = () => [...contents.records.values()].flatMap((records) => [...records.values()]);
  return {
    identity: async () => contents.identity,
    outbox: async () => [...contents.entries.values()],
    feeds: async () => [...contents.feeds.values()],
    recordsOfFeed: async (feed) => [...(contents.records.get(feed)?.values() ?? [])],
    recordsOfKind: async (kind) => some(everyRecord(), (stored) => stored.record.kind === kind),
    copies: async (id) => [...contents.records.values()].flatMap((records) => records.get(id) ?? []),
    held: async (feed, ids) => ids.flatMap((id) => contents.records.get(feed)?.get(id) ?? []),
    commit: async (changes) => {
      for (const change of changes) 'put' in change ? put(contents, change) : drop(contents, change);
    },
  };
}
