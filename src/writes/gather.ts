import { type Fields, isUnreadable, type ReadMutation } from '../protocol/read-mutation.ts';
import { unitIds } from '../rules/derive/bundle-of.ts';
import type { Held } from '../rules/held.ts';
import type { Overlay } from '../rules/overlay.ts';
import { affectedVisits } from '../store/write/affected-visits.ts';
import { clashesNaming } from '../store/write/clashes-naming.ts';
import {
  claimsOfWells,
  heldById,
  heldOfVisits,
  heldUnder,
  signOutsOfUnits,
  wellsOfNests,
} from '../store/write/load-held.ts';
import { setAsideById, waitingFor } from '../store/write/load-set-aside.ts';
import type { StoredHeld } from '../store/write/stored-held.ts';
import type { WriteTx } from '../store/write/transaction.ts';
import type { Fresh } from './fresh.ts';
import { neededOnce } from './needed-once.ts';
import { readWaiting, type Waiting } from './waiting.ts';

/** Everything that a group of mutations is decided and derived from. */
export interface Gathered {
  /** Set aside earlier, waiting for a record that this group brings. */
  readonly waiting: readonly Waiting[];
  /** Set aside earlier, released by a mutation of this group, by id. */
  readonly released: ReadonlyMap<string, Waiting>;
  /** Visits that depend on a well, event or unit that this group changes. */
  readonly affected: readonly string[];
  /** Claims beside which a clash stands whose sentence names a crew, well or unit that this group changes. */
  readonly clashing: readonly string[];
  /** Records that belong to no visit and that no mutation changes, whose conflicts are derived all the same. */
  readonly again: readonly string[];
  /** Units whose states and flags are derived though nothing of them changes. */
  readonly units: readonly string[];
  /** The same of events, for the flags about kits and numbers. */
  readonly events: readonly string[];
}

/** A record that a mutation changes, with the values that it gives. */
interface Touch {
  readonly kind: string;
  readonly id: string;
  readonly fields: Fields;
}

class Loader {
  readonly #asked = new Map<string, Set<string>>();
  readonly tx: WriteTx;
  readonly overlay: Overlay;
  readonly hashes: Map<string, Buffer>;

  constructor(tx: WriteTx, overlay: Overlay, hashes: Map<string, Buffer>) {
    this.tx = tx;
    this.overlay = overlay;
    this.hashes = hashes;
  }

  take(stored: readonly StoredHeld[]): readonly Held[] {
    for (const held of stored) {
      this.overlay.load(held);
      this.hashes.set(`${held.feed} ${held.state.id}`, held.rowHash);
    }
    return stored;
  }

  /** Runs a query over the keys that were not asked for before. */
  async once(what: string, keys: Iterable<string>, query: (keys: string[]) => Promise<StoredHeld[]>): Promise<void> {
    const asked = this.#asked.get(what) ?? new Set();
    this.#asked.set(what, asked);
    const fresh: string[] = [];
    for (const key of keys) {
      if (asked.has(key)) continue;
      asked.add(key);
      fresh.push(key);
    }
    if (fresh.length > 0) this.take(await query(fresh));
  }

  async byId(ids: Iterable<string>): Promise<void> {
    await this.once('id', ids, (fresh) => heldById(this.tx, fresh));
  }
}

function textOf(value: unknown): string[] {
  return typeof value === 'string' ? [value] : [];
}

/** The record that a decision about a conflict changes. */
function resolved(read: ReadMutation, overlay: Overlay): Touch[] {
  const conflict = overlay.get(read.mutation.id)?.state.fields;
  const subject = overlay.get(String(conflict?.subject));
  if (read.mutation.verb !== 'resolve' || !subject) return [];
  const { kind, id } = subject.state;
  return [{ kind, id, fields: { [String(conflict?.field)]: read.fields.value } }];
}

function touchesOf(reads: readonly ReadMutation[], overlay: Overlay): Touch[] {
  return reads.flatMap((read) => {
    const own = { kind: read.kind.name, id: read.mutation.id, fields: read.fields };
    return [own, ...resolved(read, overlay)];
  });
}

/** The values that a field will have, and has. */
function fieldValues(touches: readonly Touch[], overlay: Overlay, kind: string, field: string): string[] {
  return touches
    .filter((touch) => touch.kind === kind)
    .flatMap(({ id, fields }) => [...textOf(fields[field]), ...textOf(overlay.get(id)?.state.fields[field])]);
}

function ofKind(touches: readonly Touch[], ...kinds: string[]): string[] {
  return touches.filter((touch) => kinds.includes(touch.kind)).map((touch) => touch.id);
}

async function gatherWaiting(tx: WriteTx, reads: readonly ReadMutation[]): Promise<Waiting[]> {
  const found = new Map<string, Waiting>();
  let created = reads.filter((read) => read.mutation.verb === 'record').map((read) => read.mutation.id);
  while (created.length > 0) {
    const next = readWaiting(await waitingFor(tx, created)).filter((one) => !found.has(one.row.id));
    for (const one of next) found.set(one.row.id, one);
    created = next.map((one) => one.read.mutation.id);
  }
  return [...found.values()];
}

async function gatherReleased(tx: WriteTx, reads: readonly ReadMutation[]): Promise<Map<string, Waiting>> {
  const ids = reads.filter((read) => read.mutation.verb === 'release').map((read) => read.mutation.id);
  const waiting = readWaiting(await setAsideById(tx, ids));
  return new Map(waiting.map((one) => [one.row.id, one]));
}

/** What of the things that were set aside is looked at. */
export interface Taking {
  /** Whether what waits for the records of this group is applied with it. */
  readonly takesWaiting: boolean;
  /** Set aside since a newer server was needed, and tried again. */
  readonly takesUp?: readonly string[];
}

/** What was kept for a newer server waits no longer than others do. */
function asWaiting(one: Waiting): Waiting {
  return { ...one, takenUp: true, row: one.row.standing === 'kept' ? { ...one.row, standing: 'waiting' } : one.row };
}

/** What was set aside earlier and may be applied with these mutations. */
async function gatherSetAside(
  tx: WriteTx,
  own: readonly ReadMutation[],
  { takesWaiting, takesUp = [] }: Taking,
): Promise<Pick<Gathered, 'released' | 'waiting'>> {
  const released = await gatherReleased(tx, own);
  const takenUp = readWaiting(await setAsideById(tx, takesUp)).map(asWaiting);
  const bringing = [...own, ...[...released.values(), ...takenUp].map((one) => one.read)];
  return { released, waiting: takesWaiting ? [...takenUp, ...(await gatherWaiting(tx, bringing))] : takenUp };
}

async function gatherConflicts(loader: Loader, reads: readonly ReadMutation[]): Promise<void> {
  const changed = reads.filter((read) => read.mutation.verb !== 'record' || loader.overlay.get(read.mutation.id));
  const targets = changed.map((read) => read.mutation.id);
  const subjects = targets.flatMap((id) => {
    const held = loader.overlay.get(id);
    return held?.state.kind === 'conflict' ? textOf(held.state.fields.subject) : [];
  });
  await loader.byId(subjects);
  const parents = [...targets, ...subjects];
  await loader.once('conflicts', parents, (ids) => heldUnder(loader.tx, ids, ['conflict', 'flag']));
}

/** Every well that the claims in view are about, and that those changed will be about. */
function claimedWells(touches: readonly Touch[], overlay: Overlay): string[] {
  const known = overlay.ofKind('well-claim').map((held) => held.state.fields);
  const given = touches.filter((touch) => touch.kind === 'well-claim');
  const next = given.map(({ id, fields }): Fields => ({ ...overlay.get(id)?.state.fields, ...fields }));
  // A claim that this very group brings is not known yet when its end comes in the same push.
  const named = [...known, ...next].filter(
    (fields) => typeof fields.event === 'string' && typeof fields.well === 'string',
  );
  return named.map((fields) => `${String(fields.event)} ${String(fields.well)}`);
}

/** The claims that can clash with those that are touched. @returns the claims whose clashes may be told otherwise */
async function gatherClaims(loader: Loader, touches: readonly Touch[]): Promise<string[]> {
  const { overlay, tx } = loader;
  const clashing = await clashesNaming(tx, ofKind(touches, 'crew', 'well', 'unit'));
  await loader.byId(clashing);
  await loader.once('claims', claimedWells(touches, overlay), (keys) => {
    const split = keys.map((key) => key.split(' '));
    return claimsOfWells(
      tx,
      split.map(([event]) => event ?? ''),
      split.map(([, well]) => well ?? ''),
    );
  });
  const known = overlay.ofKind('sign-out').flatMap((held) => textOf(held.state.fields.unit));
  const units = [...known, ...fieldValues(touches, overlay, 'sign-out', 'unit')];
  await loader.once('sign-outs', units, (keys) => signOutsOfUnits(tx, keys));
  await gatherClashes(loader);
  return clashing;
}

/** The clashes of the claims in view, the decisions about them, and what their sentences name. */
async function gatherClashes(loader: Loader): Promise<void> {
  const { overlay, tx } = loader;
  const all = [...overlay.ofKind('well-claim'), ...overlay.ofKind('sign-out')];
  const claims = all.map((held) => held.state.id);
  await loader.once('conflicts', claims, (ids) => heldUnder(tx, ids, ['conflict', 'flag']));
  // The sentences of a clash name crews, wells and units: the same whatever else this group has loaded.
  const named = all.map((held) => held.state.fields);
  await loader.byId(named.flatMap((fields) => [fields.crew, fields.pump, fields.well, fields.unit].flatMap(textOf)));
  await loader.byId(overlay.ofKind('conflict').flatMap((held) => textOf(held.state.fields.resolution)));
  await loader.once('resolutions', claims, (ids) => heldUnder(tx, ids, ['resolution']));
}

/** The visits that the mutations write into, so far as they are known before they are decided. */
function visitsOf(reads: readonly ReadMutation[], overlay: Overlay): string[] {
  const named = reads.flatMap(neededOnce).flatMap((id) => overlay.get(id)?.visit ?? []);
  return [...named, ...reads.filter((read) => read.kind.name === 'visit').map((read) => read.mutation.id)];
}

function gatherAffected({ overlay, tx }: Loader, touches: readonly Touch[]): Promise<string[]> {
  const wells = [...ofKind(touches, 'well'), ...fieldValues(touches, overlay, 'measuring-point', 'well')];
  const nests = fieldValues(touches, overlay, 'well', 'nest');
  return affectedVisits(tx, { wells, nests, events: ofKind(touches, 'event'), units: ofKind(touches, 'unit') });
}

/** Wells with their nest and measuring points, events and units: what the records of a visit are judged by. */
async function gatherAround(loader: Loader, touches: readonly Touch[]): Promise<void> {
  const { overlay, tx } = loader;
  const visits = overlay.ofKind('visit');
  const named = visits.flatMap((visit) => [...textOf(visit.state.fields.event), ...textOf(visit.state.fields.well)]);
  const wanted = touches.flatMap(({ fields }) => [...textOf(fields.event), ...textOf(fields.well)]);
  const units = visits.flatMap((visit) => unitIds(overlay.ofVisit(visit.state.id)));
  await loader.byId([...named, ...wanted, ...units]);
  const wells = overlay.ofKind('well');
  const nests = wells.flatMap((well) => textOf(well.state.fields.nest));
  await loader.once('nest', nests, (keys) => wellsOfNests(tx, keys));
  const points = wells.map((well) => well.state.id);
  await loader.once('points', points, (keys) => heldUnder(tx, keys, ['measuring-point']));
}

/**
 * Loads what the mutations name, the visits that they write into with all that belongs to them, and what those are
 * judged by; after the lock, so that it is the truth until the commit.
 *
 * @param hashes filled with the row hash of each record loaded, by feed and id
 * @param taking what is loaded too of the things that were set aside
 */
export async function gather(
  tx: WriteTx,
  overlay: Overlay,
  hashes: Map<string, Buffer>,
  fresh: readonly Fresh[],
  taking: Taking,
): Promise<Gathered> {
  const loader = new Loader(tx, overlay, hashes);
  const own = fresh.flatMap((one) => (isUnreadable(one.read) ? [] : [one.read]));
  const [{ released, waiting }] = await Promise.all([
    gatherSetAside(tx, own, taking),
    loader.byId(own.flatMap(neededOnce)),
  ]);
  const reads = [...own, ...[...released.values(), ...waiting].map((one) => one.read)];
  await loader.byId(reads.flatMap(neededOnce));
  await gatherConflicts(loader, reads);
  const touches = touchesOf(reads, overlay);
  const affected = await gatherAffected(loader, touches);
  const visits = [...visitsOf(reads, overlay), ...affected];
  await loader.once('visit', visits, (keys) => heldOfVisits(tx, keys));
  const clashing = await gatherClaims(loader, touches);
  await gatherAround(loader, touches);
  return { waiting, released, affected, clashing, again: [], units: [], events: [] };
}

/** Records whose derived ones are made anew though no mutation touches them. */
export interface Untouched extends Pick<Gathered, 'units' | 'events'> {
  readonly visits: readonly string[];
  /** Of wells and of units. */
  readonly claims: readonly string[];
  /** Of any other kind, outside visits. */
  readonly others: readonly string[];
}

/** Loads, after the lock, what is derived from records that no mutation touches, and what that is judged by. */
export async function gatherUntouched(
  tx: WriteTx,
  overlay: Overlay,
  hashes: Map<string, Buffer>,
  { visits, claims, others, units, events }: Untouched,
): Promise<Gathered> {
  const loader = new Loader(tx, overlay, hashes);
  const again = [...claims, ...others];
  await loader.byId(again);
  await loader.once('conflicts', again, (ids) => heldUnder(tx, ids, ['conflict', 'flag']));
  await loader.once('visit', visits, (keys) => heldOfVisits(tx, keys));
  await gatherClaims(loader, []);
  await gatherAround(loader, []);
  return { waiting: [], released: new Map(), affected: visits, clashing: claims, again, units, events };
}
