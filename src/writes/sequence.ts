import { hash } from 'node:crypto';
import { canonicalText } from '../protocol/content-hash.ts';
import type { HeadRow } from '../store/write/head-row.ts';
import type { LedgerRow } from '../store/write/persist-ledger.ts';
import type { TypedRow } from '../store/write/persist-typed.ts';
import type { Written } from '../store/write/record-memory.ts';
import { EMPTY_TAIL, type Tail } from '../store/write/tail.ts';
import type { Draft } from './group.ts';

/** The rows that a group of drafts becomes, numbered. */
export interface Sequenced {
  readonly ledger: readonly LedgerRow[];
  readonly heads: readonly HeadRow[];
  /** The row of the ledger where each draft stands, in the order of the drafts. */
  readonly rowOfDraft: readonly LedgerRow[];
  /** The newest state of each record in each feed. */
  readonly written: readonly Written[];
  /** The new tail of each feed. */
  readonly tails: ReadonlyMap<string, Tail>;
}

function sha256(data: Buffer | string): Buffer {
  return hash('sha256', data, 'buffer');
}

function xor(a: Buffer, b: Buffer): Buffer {
  const out = Buffer.allocUnsafe(8);
  for (let index = 0; index < 8; index++) out[index] = (a[index] ?? 0) ^ (b[index] ?? 0);
  return out;
}

/** What the history hash covers of a row that says a record is gone. */
export function goneText(kind: string, id: string): string {
  return canonicalText({ gone: { kind, id } });
}

/** Each row's history hash covers the one before it, its number and its content. */
export function historyHash(before: Buffer, seq: number, digest: Buffer): Buffer {
  const covered = Buffer.allocUnsafe(before.length + 8 + digest.length);
  before.copy(covered);
  covered.writeBigUInt64BE(BigInt(seq), before.length);
  digest.copy(covered, before.length + 8);
  return sha256(covered);
}

interface Author {
  readonly client: string | null;
  readonly mutation: number | null;
}

/** Numbers rows at the tails of their feeds and keeps count, content hash and history hash up to date. */
class Sequencer {
  readonly tails: Map<string, Tail>;
  readonly #stored: ReadonlyMap<string, Buffer>;
  /** Row hashes since the first change; null where the record left the feed. */
  readonly #hashes = new Map<string, Buffer | null>();
  readonly ledger: LedgerRow[] = [];
  readonly written = new Map<string, Written>();

  constructor(tails: ReadonlyMap<string, Tail>, hashes: ReadonlyMap<string, Buffer>) {
    this.tails = new Map(tails);
    this.#stored = hashes;
  }

  append(feed: string, draft: Draft, gone: boolean): LedgerRow {
    const { state, parent, visit, memory } = draft.held;
    const key = `${feed} ${state.id}`;
    const text = gone ? null : canonicalText(state);
    const digest = sha256(text ?? goneText(state.kind, state.id));
    const rowHash = gone ? null : digest.subarray(0, 8);
    const tail = this.#advance(feed, key, digest, rowHash);
    const { id, kind, rev } = state;
    const author: Author = { client: state.client, mutation: state.mutation };
    const intent = draft.intent === null || gone ? null : JSON.stringify(draft.intent);
    const row = { feed, ...tail, record: id, kind, rev, state: text, intent, ...author };
    this.ledger.push(row);
    const merge = memory === null || gone ? null : JSON.stringify(memory);
    const head = { feed, id, kind, seq: tail.seq, rev, gone, parent, visit, rowHash, merge };
    this.written.set(key, { head, text });
    return row;
  }

  #advance(feed: string, key: string, digest: Buffer, rowHash: Buffer | null): Tail {
    const before = this.tails.get(feed) ?? EMPTY_TAIL;
    const changed = this.#hashes.get(key);
    const old = changed === undefined ? this.#stored.get(key) : changed;
    const without = old ? xor(before.contentHash, old) : before.contentHash;
    const seq = before.seq + 1;
    const tail = {
      seq,
      liveCount: before.liveCount - (old ? 1 : 0) + (rowHash ? 1 : 0),
      contentHash: rowHash ? xor(without, rowHash) : without,
      historyHash: historyHash(before.historyHash, seq, digest),
    };
    this.#hashes.set(key, rowHash);
    this.tails.set(feed, tail);
    return tail;
  }
}

/** The last state of each record, kind by kind. */
export function typedRows(drafts: readonly Draft[]): Map<string, TypedRow[]> {
  const last = new Map(drafts.map((draft) => [draft.held.state.id, draft]));
  const byKind = new Map<string, TypedRow[]>();
  for (const { held, withdrawn } of last.values()) {
    const rows = byKind.get(held.state.kind) ?? [];
    byKind.set(held.state.kind, rows);
    rows.push({ state: held.state, withdrawn });
  }
  return byKind;
}

/** The feeds that drafts touch, in a fixed order. */
export function feedsOf(drafts: readonly Draft[]): string[] {
  return [...new Set(drafts.flatMap((draft) => [draft.held.feed, ...(draft.leaves ? [draft.leaves] : [])]))].sort();
}

/**
 * Gives every change its place at the tail of its feed, dense and in order.
 *
 * @param tails the newest row of each feed
 * @param hashes the row hash of each stored record, by feed and id
 */
export function sequence(
  drafts: readonly Draft[],
  tails: ReadonlyMap<string, Tail>,
  hashes: ReadonlyMap<string, Buffer>,
): Sequenced {
  const sequencer = new Sequencer(tails, hashes);
  const rowOfDraft = drafts.map((draft) => {
    if (draft.leaves) sequencer.append(draft.leaves, draft, true);
    return sequencer.append(draft.held.feed, draft, draft.withdrawn);
  });
  const written = [...sequencer.written.values()];
  const heads = written.map(({ head }) => head);
  return { ledger: sequencer.ledger, heads, rowOfDraft, written, tails: sequencer.tails };
}
