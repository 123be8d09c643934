import { kindNamed } from '../../protocol/kinds-by-name.ts';
import type { Mutation } from '../../protocol/mutation.ts';
import { Overlay } from '../../rules/overlay.ts';
import type { FieldClient } from '../client.ts';
import { identityOf } from '../context.ts';
import { inOrder } from '../own-work.ts';
import { clockHere, type MeasuredClock } from '../preview/clock.ts';
import type { PendingHere } from '../preview/records.ts';
import { Replay } from '../preview/replay.ts';
import { bySubject, heldOf } from '../preview/world.ts';
import { isReflected, reachOf } from '../reflected.ts';
import type { ClientStore, FeedState, StoredRecord } from '../store.ts';

/** Everything on a device at once: a unit goes from event to event, so that no one visit tells of it. */
export interface DeviceWorld {
  /** Null while the feed of the firm has not come. */
  readonly firm: string | null;
  /** What was pulled, and the own work that was laid over so far. */
  readonly world: Overlay;
  readonly replay: Replay;
  /** Own work that the pulled rows do not tell of yet, in order of capture. */
  readonly pending: readonly PendingHere[];
  readonly feeds: readonly FeedState[];
  readonly isClockKnown: boolean;
  /** How far the clock of this device is off; null while the server did not measure it. */
  readonly clock: MeasuredClock | null;
}

async function newestRows(store: ClientStore, feeds: readonly FeedState[]): Promise<Map<string, StoredRecord>> {
  const best = new Map<string, StoredRecord>();
  for (const { feed } of feeds) {
    for (const row of await store.recordsOfFeed(feed)) {
      const known = best.get(row.record.id);
      if (!known || row.record.rev > known.record.rev) best.set(row.record.id, row);
    }
  }
  return best;
}

/** The visit that a row belongs to, by its parents. */
function visitOfRow(row: StoredRecord | undefined, rows: ReadonlyMap<string, StoredRecord>): string | null {
  if (row === undefined) return null;
  const { kind, id, fields } = row.record;
  if (kind === 'visit') return id;
  const home = kindNamed(kind)?.home;
  if (home?.in !== 'parent') return null;
  if (home.visit !== undefined) return String(fields[home.visit]);
  return visitOfRow(rows.get(String(fields[home.field])), rows);
}

async function pendingHere(store: ClientStore, rows: ReadonlyMap<string, StoredRecord>, feeds: readonly FeedState[]) {
  const reach = reachOf(feeds);
  return inOrder(await store.outbox())
    .filter((entry) => !isReflected(entry, rows.get(entry.id)?.record ?? null, reach))
    .map((entry): PendingHere => ({ entry, mutation: JSON.parse(entry.line) as Mutation }));
}

/** Reads all that is here; the own work is not laid over yet. */
export function deviceWorld({ context }: FieldClient): Promise<DeviceWorld> {
  const { exclusive, store, role } = context;
  return exclusive(async () => {
    const feeds = await store.feeds();
    const rows = await newestRows(store, feeds);
    const all = [...rows.values()];
    const conflicts = bySubject(all);
    const world = new Overlay();
    for (const row of all) world.put(heldOf(row, visitOfRow(row, rows), conflicts.get(row.record.id) ?? []));
    const clock = clockHere(all, (await identityOf(store)).client);
    const firm = all.find(({ record }) => record.kind === 'firm')?.record.id ?? null;
    const pending = await pendingHere(store, rows, feeds);
    const replay = new Replay(world, role, clock);
    return { firm, world, replay, pending, feeds, isClockKnown: clock !== null, clock };
  });
}

export function layOver({ replay }: DeviceWorld, pending: readonly PendingHere[]): void {
  for (const one of pending) replay.take(one);
}
