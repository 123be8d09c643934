import { isDeepStrictEqual } from 'node:util';
import { rowHash } from '../protocol/content-hash.ts';
import { KINDS, kindNamed } from '../protocol/kinds-by-name.ts';
import type { RecordState } from '../protocol/record.ts';
import { placeOf } from '../rules/decide/home.ts';
import type { Held } from '../rules/held.ts';
import { type MergeMemory, VOIDED } from '../rules/merge/merge-memory.ts';
import { type LedgerChange, replayMemory } from '../rules/merge/replay.ts';
import type { Overlay } from '../rules/overlay.ts';
import { floorOf } from '../store/read/gone-feeds.ts';
import {
  type Anchor,
  changesOf,
  type HeadEntry,
  headsOf,
  type LedgerEntry,
  ledgerRows,
} from '../store/read/ledger-rows.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import type { Difference } from './difference.ts';
import { HistoryCheck } from './verify-history.ts';

const PAGE = 2_000;
const CHANGES_AT_ONCE = 500;

/** A row that says that a record went to another feed; what is derived goes away without being anywhere else. */
export type Departure = Pick<LedgerEntry, 'feed' | 'seq' | 'record' | 'kind' | 'rev'>;

interface Rows {
  /** Of each record. */
  readonly newest: Map<string, LedgerEntry>;
  readonly departures: readonly Departure[];
  readonly tail: number;
}

function isDeparture({ text, kind }: LedgerEntry): boolean {
  return text === null && kindNamed(kind)?.family !== 'derived';
}

/**
 * The newest row of each record of a feed, and the first row that does not follow from the one before it.
 *
 * @param anchors what the history was at some places when they were noted
 */
async function readRows(tx: ReadTx, feed: string, check: FeedCheck, anchors: readonly Anchor[]): Promise<Rows> {
  const newest = new Map<string, LedgerEntry>();
  const departures: Departure[] = [];
  const unmet = new Set(anchors);
  const history = new HistoryCheck();
  let sound = true;
  let after = 0;
  for (;;) {
    const rows = await ledgerRows(tx, feed, after, PAGE);
    for (const row of rows) {
      newest.set(row.record, row);
      if (isDeparture(row)) departures.push({ feed, seq: row.seq, record: row.record, kind: row.kind, rev: row.rev });
      const fault = history.fault(row);
      if (sound && fault !== undefined) check.add(row, 'history', fault);
      sound = sound && fault === undefined;
      for (const anchor of unmet) {
        if (anchor.tail === row.seq && anchor.historyHash.equals(row.historyHash)) unmet.delete(anchor);
      }
    }
    after = rows.at(-1)?.seq ?? after;
    if (rows.length < PAGE) break;
  }
  for (const anchor of unmet) check.anchor(anchor);
  return { newest, departures, tail: after };
}

/** What the changes of these records give to remember, from the ledger alone. */
export async function replayedMemories(
  tx: ReadTx,
  records: readonly string[],
): Promise<Map<string, MergeMemory | null>> {
  const changes = new Map<string, LedgerChange[]>();
  for (let at = 0; at < records.length; at += CHANGES_AT_ONCE) {
    for (const { record, state, intent } of await changesOf(tx, records.slice(at, at + CHANGES_AT_ONCE))) {
      const known = changes.get(record) ?? [];
      changes.set(record, known);
      known.push({ state, intent });
    }
  }
  return new Map([...changes].map(([record, all]) => [record, replayMemory(all)]));
}

const ORDER = new Map(KINDS.map((kind, index) => [kind.name, index]));

/** Parents before the records that name them, so that each can be placed. */
function inOrder(rows: Iterable<LedgerEntry>): LedgerEntry[] {
  return [...rows].toSorted((a, b) => (ORDER.get(a.kind) ?? 0) - (ORDER.get(b.kind) ?? 0));
}

/** A review may outlive its flag: then only the head knows where it lives. */
function placed(state: RecordState, feed: string, head: HeadEntry | undefined, world: Overlay) {
  const kind = kindNamed(state.kind);
  const parent = kind?.home.in === 'parent' ? String(state.fields[kind.home.field]) : undefined;
  if (!kind || (parent !== undefined && !world.get(parent))) {
    return { feed, parent: head?.parent ?? null, visit: head?.visit ?? null };
  }
  return placeOf(kind, state.id, state.fields, world);
}

class FeedCheck {
  readonly differences: Difference[] = [];
  readonly feed: string;
  /** Up to here the heads of what is gone may have been dropped. */
  readonly floor: number;

  constructor(feed: string, floor: number) {
    this.feed = feed;
    this.floor = floor;
  }

  add(row: Pick<LedgerEntry, 'kind' | 'record'>, what: Difference['what'], detail: string): void {
    this.differences.push({ feed: this.feed, kind: row.kind, id: row.record, what, detail });
  }

  anchor({ epoch, tail }: Anchor): void {
    const detail = `when the epoch ${epoch} began, row ${tail} was there with another history hash`;
    this.differences.push({ feed: this.feed, kind: 'epoch', id: epoch, what: 'history', detail });
  }

  head(row: LedgerEntry, head: HeadEntry | undefined): void {
    const { kind, seq, rev, text } = row;
    if (!head && text === null && seq <= this.floor) return;
    const wanted = { kind, seq, rev, gone: text === null, rowHash: text === null ? null : rowHash(text) };
    const stored = head && {
      kind: head.kind,
      seq: head.seq,
      rev: head.rev,
      gone: head.gone,
      rowHash: head.rowHash?.toString('hex') ?? null,
    };
    if (isDeepStrictEqual(wanted, stored)) return;
    this.add(row, 'head', `the head says ${JSON.stringify(stored)}, the ledger ${JSON.stringify(wanted)}`);
  }

  record(row: LedgerEntry, held: Held, head: HeadEntry | undefined): void {
    const { parent, visit, memory, state } = held;
    if (held.feed !== this.feed) this.add(row, 'place', `its fields say that it lives in ${held.feed}`);
    if (head && (head.parent !== parent || head.visit !== visit)) {
      this.add(row, 'place', `head: parent ${head.parent}, visit ${head.visit}; fields: ${parent}, ${visit}`);
    }
    if (head && !isDeepStrictEqual(memory, head.merge)) this.add(row, 'merge', 'a replay of its changes gives another');
    const wrong = Object.entries(memory?.registers ?? {}).filter(([field, register]) => {
      const stands = field === VOIDED ? state.voided !== null : (state.fields[field] ?? null);
      return !isDeepStrictEqual(stands, register.at(-1)?.value ?? (field === VOIDED ? false : null));
    });
    for (const [field] of wrong) this.add(row, 'record', `${field} shows another value than its changes give`);
  }
}

/** A feed as the ledger alone tells it: its live records, placed and with their merge memory. */
export interface LedgerFeed extends Omit<Rows, 'newest'> {
  readonly held: readonly Held[];
  readonly differences: readonly Difference[];
}

/**
 * Reads a feed from the ledger and compares what is noted beside it.
 *
 * @param world takes the records; it has those that they refer to in other feeds
 */
export async function readLedgerFeed(
  tx: ReadTx,
  feed: string,
  world: Overlay,
  anchors: readonly Anchor[] = [],
): Promise<LedgerFeed> {
  const check = new FeedCheck(feed, await floorOf(tx, feed));
  const { newest, ...rows } = await readRows(tx, feed, check, anchors);
  const heads = new Map((await headsOf(tx, feed)).map((head) => [head.id, head]));
  const live = [...newest.values()].filter((row) => row.text !== null);
  const changed = live.filter((row) => row.rev > 1 && kindNamed(row.kind)?.family !== 'derived');
  const memory = await replayedMemories(
    tx,
    changed.map((row) => row.record),
  );
  for (const row of newest.values()) check.head(row, heads.get(row.record));
  for (const head of heads.values()) {
    if (!newest.has(head.id)) check.add({ kind: head.kind, record: head.id }, 'head', 'the ledger has no such record');
  }
  const held = inOrder(live).map((row): Held => {
    const state = JSON.parse(row.text ?? '') as RecordState;
    const head = heads.get(row.record);
    const one = { state, ...placed(state, feed, head, world), memory: memory.get(row.record) ?? null };
    check.record(row, one, head);
    world.put(one);
    return one;
  });
  return { ...rows, held, differences: check.differences };
}
