import type { Observed } from '../protocol/record.ts';
import type { Captured } from './capture.ts';
import { exportOutbox, importOutbox, type Taken } from './carry.ts';
import type { Fields } from './check-fields.ts';
import { conflicts, type OpenConflict } from './conflicts.ts';
import { type ClientContext, type ClientOptions, contextOf, identityOf } from './context.ts';
import { type ObservedOptions, observedHere } from './observed-here.ts';
import { type AmendOptions, amend, type RecordOptions, record, rehome, resolve, voidRecord } from './outbox.ts';
import type { ViewRecord } from './overlay.ts';
import { setPerson } from './person.ts';
import { resetFeeds } from './reset-feeds.ts';
import type { Identity } from './store.ts';
import { dismiss, type Trouble, troubles } from './troubles.ts';
import { type Unsent, unsent } from './unsent.ts';
import { viewAll, viewOne } from './view.ts';

/** One device of a crew. Every method works without a signal; `syncOnce` is the only thing that uses one. */
export interface FieldClient {
  /** For `syncOnce`. */
  readonly context: ClientContext;
  record(kind: string, fields: Fields, options?: RecordOptions): Promise<Captured>;
  amend(kind: string, id: string, set: Fields, options?: AmendOptions): Promise<Captured>;
  voidRecord(kind: string, id: string, reason: string): Promise<Captured>;
  rehome(kind: string, id: string, set: Fields, reason: string): Promise<Captured>;
  resolve(conflict: string, value?: unknown, reason?: string, neither?: true): Promise<Captured>;
  observed(options?: ObservedOptions): Promise<Observed>;
  setPerson(member: string | null): Promise<void>;
  identity(): Promise<Identity>;
  one(id: string): Promise<ViewRecord | null>;
  all(kind: string): Promise<ViewRecord[]>;
  conflicts(): Promise<OpenConflict[]>;
  /** Own mutations that the server set aside or refused. */
  troubles(): Promise<Trouble[]>;
  dismiss(client: string, mutationId: number): Promise<void>;
  unsent(now: string): Promise<Unsent>;
  /** A copy of the outbox for a partner's phone, which hands it in should this one never reach the server. */
  exportOutbox(): Promise<Uint8Array>;
  importOutbox(bytes: Uint8Array): Promise<Taken>;
  /** Forgets what was pulled, which the next sync brings again; what was captured here stays. */
  resetFeeds(): Promise<void>;
}

async function introduce({ store, newId }: ClientContext): Promise<void> {
  if ((await store.identity()) !== null) return;
  const nobody = { sequence: 0, person: null, epoch: null, durable: 0 };
  await store.commit([{ put: 'identity', identity: { client: newId(), nextMutation: 1, ...nobody } }]);
}

/** Opens a store, which becomes a client of its own at the first time. */
export async function openClient(options: ClientOptions): Promise<FieldClient> {
  const context = contextOf(options);
  await introduce(context);
  return {
    context,
    record: (kind, fields, recordOptions) => record(context, kind, fields, recordOptions),
    amend: (kind, id, set, amendOptions) => amend(context, kind, id, set, amendOptions),
    voidRecord: (kind, id, reason) => voidRecord(context, kind, id, reason),
    rehome: (kind, id, set, reason) => rehome(context, kind, id, set, reason),
    resolve: (conflict, value, reason, neither) => resolve(context, conflict, value, reason, neither),
    observed: (observedOptions) => observedHere(context, observedOptions),
    setPerson: (member) => setPerson(context, member),
    identity: () => identityOf(context.store),
    one: (id) => viewOne(context, id),
    all: (kind) => viewAll(context, kind),
    conflicts: () => conflicts(context),
    troubles: () => troubles(context),
    dismiss: (client, mutationId) => dismiss(context, client, mutationId),
    unsent: (now) => unsent(context, now),
    exportOutbox: () => exportOutbox(context),
    importOutbox: (bytes) => importOutbox(context, bytes),
    resetFeeds: () => resetFeeds(context),
  };
}
