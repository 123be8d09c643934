import type { Role } from '../protocol/kind.ts';
import { LIMITS } from '../protocol/limits.ts';
import type { DeviceTime } from './device-time.ts';
import { type OneAtATime, oneAtATime } from './one-at-a-time.ts';
import type { ClientStore, Identity } from './store.ts';
import type { Transport } from './transport.ts';

export interface ClientOptions {
  readonly store: ClientStore;
  readonly transport: Transport;
  readonly time: DeviceTime;
  /** Makes UUIDs of version 7; `uuidV7Maker` does. */
  readonly newId: () => string;
  /** A feed is recounted from its rows on every n-th pull, besides every time its count or hash is off; 2 if missing. */
  readonly recountEvery?: number;
  /** Of the token, where it is known: what it may not write is then said beforehand. */
  readonly role?: Role | null;
}

/** What was learned of the line to the server since the start; forgetting it costs nothing but time. */
export interface LineState {
  pushMutations: number;
  pageRows: number;
  roundTripMs: number | null;
  /** Of the shapes that the server reads and writes, as its list of feeds said last. */
  serverVersion: number | null;
  pulls: number;
  /** Server time of the newest list of feeds that was acted upon. */
  seen: string | null;
  /** The client id under which the server was told last which list this phone knew. */
  told: string | null;
}

export interface ClientContext {
  readonly store: ClientStore;
  readonly transport: Transport;
  readonly time: DeviceTime;
  readonly newId: () => string;
  readonly recountEvery: number;
  readonly role: Role | null;
  readonly line: LineState;
  /** Every "read the store, decide, commit" runs in here, for all clients of a store; no request is made inside. */
  readonly exclusive: OneAtATime;
  /** One push and one pull in flight per client. */
  readonly oneSync: OneAtATime;
}

const queues = new WeakMap<ClientStore, OneAtATime>();

/** One queue for each store: an app that opens a second client over it must not take a number twice. */
function queueOf(store: ClientStore): OneAtATime {
  const queue = queues.get(store) ?? oneAtATime();
  queues.set(store, queue);
  return queue;
}

export function contextOf(options: ClientOptions): ClientContext {
  const { store, transport, time, newId, recountEvery = 2, role = null } = options;
  const line = {
    pushMutations: LIMITS.pushMutations,
    pageRows: LIMITS.feedPageRows,
    roundTripMs: null,
    serverVersion: null,
    pulls: 0,
    seen: null,
    told: null,
  };
  const state = { line, exclusive: queueOf(store), oneSync: oneAtATime() };
  return { store, transport, time, newId, recountEvery, role, ...state };
}

/** Who this installation is. A store without an identity was wiped under a running app. */
export async function identityOf(store: ClientStore): Promise<Identity> {
  const identity = await store.identity();
  if (identity === null) throw new Error('the store has lost the identity of this client: open the client again');
  return identity;
}
