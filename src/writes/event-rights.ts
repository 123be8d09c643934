import type { Role } from '../protocol/kind.ts';
import { isUnreadable } from '../protocol/read-mutation.ts';
import type { Carrier, CarrierName } from '../rules/decide/carried.ts';
import type { EventRight, RightIn } from '../rules/decide/event-right.ts';
import { type Dated, lastAssigned } from '../rules/decide/last-assigned.ts';
import type { Held } from '../rules/held.ts';
import type { Overlay } from '../rules/overlay.ts';
import { type DatedState, datedStates } from '../store/write/dated-states.ts';
import { heldById, heldUnder } from '../store/write/load-held.ts';
import type { ClientRow } from '../store/write/load-receipts.ts';
import type { WriteTx } from '../store/write/transaction.ts';
import type { Batch } from './batch.ts';
import type { Fresh } from './fresh.ts';
import type { Gathered } from './gather.ts';
import type { Draft, Group } from './group.ts';
import { neededOnce } from './needed-once.ts';
import type { Waiting } from './waiting.ts';

/** A device with the moment from which on it knew what its crew is assigned to; null where it never looked. */
export interface Hand {
  readonly device: string;
  readonly since: string | null;
}

/** What is known of the assignments of crews before a group is decided. */
export interface KnownRights {
  readonly now: string;
  /** By device and event the assignment that stood when the group began. */
  readonly stood: ReadonlyMap<string, string>;
  /** Every state of the devices, and of the assignments of the events, where that has to be looked at. */
  readonly past: ReadonlyMap<string, readonly Dated[]>;
}

/** Whom the client of a batch belonged to as it was placed, after the batches before it; nobody where it has no device. */
export type Owner = Pick<ClientRow, 'token' | 'device' | 'seenAt'>;

export type Owners = ReadonlyMap<Batch, Owner>;

export const NO_RIGHTS: KnownRights = { now: '', stood: new Map(), past: new Map() };

/** Of a request that is answered at once, the device knows what there is to know. */
function ownHand(batch: Batch, owners: Owners, now: string): Hand[] {
  const { device } = batch.actor;
  if (device === null) return [];
  if (batch.oneShot || batch.carried) return [{ device, since: now }];
  return [{ device, since: owners.get(batch)?.seenAt ?? null }];
}

/** Whose right a batch of a crew has: that of the phone which made it, or of the one that carries a copy. */
export function handsOf(batch: Batch, owners: Owners, now: string): Hand[] | null {
  const { role, revoked, device } = batch.actor;
  // a crew is known by its device: no token of a crew is issued without one
  if (role !== 'crew' || revoked || device === null) return null;
  const owner = owners.get(batch);
  const author = batch.carried && owner?.device ? [{ device: owner.device, since: owner.seenAt }] : [];
  return [...author, ...ownHand(batch, owners, now)];
}

/** Who hands in a copy of what another device captured; null where it is that device itself. */
export function carrierOf({ carried, actor }: Batch, owner: Omit<Owner, 'seenAt'> | undefined): CarrierName | null {
  const { device, token } = actor;
  if (!carried || owner?.token === token) return null;
  if (device === null) return { device, token };
  return owner?.device === device ? null : { device };
}

/** As it is noted beside what is set aside: one id, of a device or of a token. */
export function carrierId(name: CarrierName | null): string | null {
  return name === null || name.device !== null ? (name?.device ?? null) : name.token;
}

/** The same as it was noted; the device on record was loaded. */
export function carrierOfWaiting({ row: { carrier } }: Waiting, overlay: Overlay): CarrierName | null {
  if (carrier === null) return null;
  return overlay.get(carrier) ? { device: carrier } : { device: null, token: carrier };
}

/** The right of a crew that carries is asked of itself, as everybody's is who asks for an answer at once. */
export function carrierIn(name: CarrierName | null, role: Role, group: Group): Carrier | null {
  if (name === null) return null;
  const { device } = name;
  const hands = role === 'crew' && device !== null ? [{ device, since: group.rights.now }] : null;
  return { name, rightIn: rightInOf(hands, group) };
}

/** The same of what was set aside, as it was noted then. */
export function handsOfWaiting({ row }: Waiting): Hand[] | null {
  return row.role === 'crew' && row.device !== null ? [{ device: row.device, since: row.since }] : null;
}

function standingFor(device: string, event: string, overlay: Overlay): Held | undefined {
  const crew = overlay.get(device)?.state.fields.crew;
  if (crew === undefined) return undefined;
  return overlay
    .under(event)
    .find(({ state }) => state.kind === 'assignment' && !state.voided && state.fields.crew === crew);
}

function key(device: string, event: string): string {
  return `${device} ${event}`;
}

/**
 * The events that the mutations write into, so far as they are known before they are decided. Those of the office too: a
 * visit that it records may be what a reading of a crew waits for.
 */
function eventsOf(fresh: readonly Fresh[], { waiting, released }: Gathered, overlay: Overlay): string[] {
  const reads = [...fresh, ...waiting, ...released.values()].map(({ read }) => read);
  const feeds = reads.flatMap((read) => {
    if (isUnreadable(read)) return [];
    return [...neededOnce(read), read.mutation.id].flatMap((id) => overlay.get(id)?.feed ?? []);
  });
  return [...new Set(feeds.filter((feed) => feed.startsWith('event:')).map((feed) => feed.slice('event:'.length)))];
}

function byRecord(states: readonly DatedState[]): Map<string, Dated[]> {
  const past = new Map<string, Dated[]>();
  for (const { record, state, at } of states) past.set(record, [...(past.get(record) ?? []), { state, at }]);
  return past;
}

/**
 * Loads, after the lock, by what the rights of crews are judged: their devices and the assignments of the events, and
 * the history of both where a crew is not assigned now.
 */
export async function gatherRights(
  tx: WriteTx,
  parts: {
    readonly overlay: Overlay;
    readonly hashes: Map<string, Buffer>;
    readonly fresh: readonly Fresh[];
    readonly gathered: Gathered;
    readonly owners: Owners;
    readonly now: string;
  },
): Promise<KnownRights> {
  const { overlay, hashes, gathered, owners, now } = parts;
  const fresh = parts.fresh.filter((one) => handsOf(one.batch, owners, now) !== null);
  const waiting = gathered.waiting.filter((one) => handsOfWaiting(one) !== null);
  const hands = [
    ...fresh.flatMap((one) => handsOf(one.batch, owners, now) ?? []),
    ...waiting.flatMap((one) => handsOfWaiting(one) ?? []),
  ];
  // also where somebody releases it: the record says whether whoever brought it had a right
  const carriers = [...gathered.waiting, ...gathered.released.values()].flatMap(({ row }) => row.carrier ?? []);
  const devices = [...new Set([...hands.map(({ device }) => device), ...carriers])];
  if (devices.length === 0) return NO_RIGHTS;
  const events = eventsOf(parts.fresh, gathered, overlay);
  const loaded = [...(await heldById(tx, devices)), ...(await heldUnder(tx, events, ['assignment']))];
  for (const held of loaded) {
    overlay.load(held);
    hashes.set(`${held.feed} ${held.state.id}`, held.rowHash);
  }
  const pairs = devices.flatMap((device) => events.map((event) => ({ device, event })));
  const stood = new Map<string, string>();
  for (const { device, event } of pairs) {
    const standing = standingFor(device, event, overlay);
    if (standing) stood.set(key(device, event), standing.state.id);
  }
  const missing = pairs.filter(({ device, event }) => !stood.has(key(device, event)));
  const past = missing.length === 0 ? [] : await datedStates(tx, needed(missing, overlay));
  return { now, stood, past: byRecord(past) };
}

function needed(missing: readonly { device: string; event: string }[], overlay: Overlay): string[] {
  const ids = missing.flatMap(({ device, event }) => [
    device,
    ...overlay.under(event).flatMap(({ state }) => (state.kind === 'assignment' ? [state.id] : [])),
  ]);
  return [...new Set(ids)];
}

/** The assignment by which the crew became assigned within this group, and lost it again. */
function stoodInGroup(device: string, event: string, drafts: readonly Draft[], overlay: Overlay): string | undefined {
  const crew = overlay.get(device)?.state.fields.crew;
  return drafts.find(({ held: { state } }) => {
    const { fields } = state;
    return state.kind === 'assignment' && !state.voided && fields.crew === crew && fields.event === event;
  })?.held.state.id;
}

function rightOf({ device, since }: Hand, event: string, group: Group): EventRight {
  const { rights, overlay, drafts } = group;
  if (standingFor(device, event, overlay)) return 'assigned';
  const assignments = overlay.under(event).filter(({ state }) => state.kind === 'assignment');
  const stood = stoodInGroup(device, event, drafts, overlay) ?? rights.stood.get(key(device, event));
  if (stood !== undefined) return { assignment: stood, ended: rights.now };
  const past = (id: string) => rights.past.get(id) ?? [];
  const ended = lastAssigned(
    past(device),
    assignments.map(({ state }) => past(state.id)),
    event,
  );
  if (!ended) return 'none';
  // in doubt for the crew: what was taken in the very millisecond of the list may not be in it
  return since === null || Date.parse(ended.ended) >= Date.parse(since) ? ended : 'none';
}

function better(one: EventRight, other: EventRight): EventRight {
  if (one === 'assigned' || other === 'none') return one;
  return other === 'assigned' || one === 'none' ? other : one;
}

/** The right of these devices, asked when a mutation is decided: against everything decided before it. */
export function rightInOf(hands: readonly Hand[] | null, group: Group): RightIn | null {
  if (hands === null) return null;
  return (event) => hands.map((hand) => rightOf(hand, event, group)).reduce(better, 'none');
}
