import { witnesses } from './cited-feeds.ts';
import { mutationKey } from './contents.ts';
import { type ClientContext, identityOf } from './context.ts';
import { LocalError } from './local-error.ts';
import { type CopiedLine, copyBytes, readCopy } from './outbox-copy.ts';
import type { CarriedEntry, Change } from './store.ts';

export interface Taken {
  /** Mutations of other phones that are carried now and were not before. */
  readonly taken: number;
  /** Those that were carried before, or are this phone's own. */
  readonly known: number;
}

function inNumber(lines: readonly CopiedLine[]): CopiedLine[] {
  return [...lines].sort((a, b) =>
    a.client === b.client ? a.mutationId - b.mutationId : a.client < b.client ? -1 : 1,
  );
}

/**
 * Everything that this phone still keeps of its own and of what it carries, for a partner's phone: should this one
 * drown, the other hands it in. What the server has heard is in it too, since its database may be lost.
 */
export function exportOutbox({ store, time, exclusive }: ClientContext): Promise<Uint8Array> {
  // a feed that is begun anew meanwhile would be named as where the lines saw what they cite
  return exclusive(async () => {
    const own = await store.outbox();
    const seen = await witnesses(store, own);
    const kept = [...own.map((entry) => ({ ...entry, seen: seen.get(entry) })), ...(await store.carried())];
    const lines = new Map(kept.map((one) => [mutationKey(one), copied(one)]));
    return copyBytes(time.wall(), inNumber([...lines.values()]));
  });
}

function copied({ client, mutationId, captured, line, schemaVersion, was, seen }: CopiedLine): CopiedLine {
  return { client, mutationId, captured, line, schemaVersion, was, seen };
}

function differs({ client, mutationId }: CopiedLine): LocalError {
  const what = `mutation ${mutationId} of client ${client} is carried here with other content`;
  return new LocalError('copy_differs', `${what}; nothing was taken. Keep both phones and tell the office`);
}

/** What a copy by an older app did not say of a line, and this one does; null where it tells nothing new. */
function moreOf(before: CarriedEntry, { was, seen }: CopiedLine): CarriedEntry | null {
  const tellsWas = was && !before.was;
  const tellsSeen = seen && before.seen === undefined;
  if (!tellsWas && !tellsSeen) return null;
  return { ...before, ...(tellsWas ? { was } : {}), ...(tellsSeen ? { seen } : {}) };
}

/**
 * Takes a copy of another phone's outbox, whole or not at all. A newer copy of the same phone adds what is new, also of
 * lines that are carried.
 */
export function importOutbox(context: ClientContext, bytes: Uint8Array): Promise<Taken> {
  const lines = readCopy(bytes);
  return context.exclusive(async () => {
    const { store } = context;
    const { client: own } = await identityOf(store);
    const mine = new Set((await store.outbox()).map(mutationKey));
    const carried = new Map((await store.carried()).map((entry) => [mutationKey(entry), entry]));
    const fresh: CarriedEntry[] = [];
    const told: CarriedEntry[] = [];
    for (const copied of lines) {
      const { client, mutationId, captured, line, schemaVersion = 1, was = null, seen } = copied;
      const key = mutationKey({ client, mutationId });
      const before = carried.get(key);
      if (before && before.line !== line) throw differs(before);
      const more = before && moreOf(before, copied);
      if (more) told.push(more);
      if (client === own || mine.has(key) || before) continue;
      const witness = seen ? { seen } : {};
      fresh.push({ client, mutationId, captured, line, schemaVersion, was, ...witness, outcome: null });
    }
    const changes = [...fresh, ...told].map((carried): Change => ({ put: 'carried', carried }));
    if (changes.length > 0) await store.commit(changes);
    return { taken: fresh.length, known: lines.length - fresh.length };
  });
}
