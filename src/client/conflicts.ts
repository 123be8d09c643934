import type { RecordState } from '../protocol/record.ts';
import { sameValue } from '../rules/merge/register.ts';
import type { ClientContext } from './context.ts';
import type { FeedState, OutboxEntry } from './store.ts';
import { viewAll } from './view.ts';

/** A value that a person may choose. */
export interface ConflictChoice {
  readonly value: unknown;
  /** The member who gave it; null where that is not known. */
  readonly by: string | null;
  readonly shown: boolean;
}

export interface OpenConflict {
  readonly id: string;
  /** Null while only the answer to the own mutation names it and its row has not come. */
  readonly record: RecordState | null;
  /** What is in conflict, in words. */
  readonly sentence: string;
  /** The value that is shown first; none where two crews claim one thing, which is decided without a value. */
  readonly choices: readonly ConflictChoice[];
  /** Whether this device may decide it; null where its role is not known. Of others a decision is set aside. */
  readonly mayDecide: boolean | null;
  /** The own mutations whose answers name it and that the outbox still keeps. */
  readonly own: readonly { readonly client: string; readonly mutationId: number }[];
}

interface Rival {
  readonly value: unknown;
  readonly by?: string | null;
}

/** Two crews want one thing: there is no value to choose. */
function isClaim(record: RecordState): boolean {
  return record.fields.type === 'well-claim' || record.fields.type === 'sign-out';
}

function choicesOf(record: RecordState | null): ConflictChoice[] {
  if (record === null || isClaim(record)) return [];
  const { shown, kept = [] } = record.fields as unknown as { shown?: Rival; kept?: readonly Rival[] };
  const given = [...(shown ? [shown] : []), ...kept].map(({ value, by = null }, at) => ({
    value,
    by,
    shown: at === 0,
  }));
  // one person may have given it on two devices
  const isSame = (a: ConflictChoice, b: ConflictChoice) => a.by === b.by && sameValue(a.value, b.value);
  return given.filter((choice, at) => given.findIndex((one) => isSame(one, choice)) === at);
}

const NOT_HERE = 'Two values were given; which ones comes with the next sync.';

/** Whether the server takes decisions of conflicts from this device; null where its role is not known. */
export function mayDecide({ role }: ClientContext): boolean | null {
  return role === null ? null : role === 'coordinator' || role === 'admin';
}

/** As this device shows them; a decision that the server will set aside leaves its conflict open. */
async function conflictsHere(context: ClientContext): Promise<RecordState[]> {
  if (mayDecide(context) !== false) return (await viewAll(context, 'conflict')).map(({ record }) => record);
  return (await context.store.recordsOfKind('conflict')).map(({ record }) => record);
}

/** Up to which seq each feed is held with all that was derived; of a store by an older app, as far as it went. */
function heldWhole(feeds: readonly FeedState[]): ReadonlyMap<string, number> {
  return new Map(feeds.map(({ feed, complete, seq, tail = complete ? seq : -1 }) => [feed, tail]));
}

/** A conflict that this device was answered and has not pulled; what was pulled since and is not here is gone. */
function isToCome({ outcome }: OutboxEntry, held: ReadonlyMap<string, number>): boolean {
  const { feed, seq } = outcome ?? {};
  return feed === undefined || seq === undefined || (held.get(feed) ?? -1) < seq;
}

/** Both values were kept, and a person has to say which one stands. */
export async function conflicts(context: ClientContext): Promise<OpenConflict[]> {
  const { store } = context;
  const records = new Map((await conflictsHere(context)).map((record) => [record.id, record]));
  const outbox = await store.outbox();
  const held = heldWhole(await store.feeds());
  const named = (entry: OutboxEntry) => {
    const { client, mutationId, outcome } = entry;
    return (outcome?.conflicts ?? []).map((id) => ({ id, client, mutationId, isToCome: isToCome(entry, held) }));
  };
  const own = outbox.flatMap(named);
  const ids = [...new Set([...records.keys(), ...own.filter((one) => one.isToCome).map(({ id }) => id)])].sort();
  return ids.flatMap((id) => {
    const record = records.get(id) ?? null;
    if (record?.fields.standing === 'resolved' || record?.voided) return [];
    const mine = own.filter((mutation) => mutation.id === id).map(({ client, mutationId }) => ({ client, mutationId }));
    const sentence = record === null ? NOT_HERE : String(record.fields.sentence);
    return [{ id, record, sentence, choices: choicesOf(record), mayDecide: mayDecide(context), own: mine }];
  });
}
