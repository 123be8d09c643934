import { hash } from 'node:crypto';
import { canonicalText } from '../protocol/content-hash.ts';
import type { HeadRow } from '../store/write/head-row.ts';
import type { LedgerRow } from '../store/write/persist-ledger.ts';
import type { TypedRow } from '../store/write/persist-typed.ts';
import type { Written } from '../store/write/record-memory.ts';
import { EMPTY_TAIL, type Tail } from '../store/write/tail.ts';
import type { Draft } from './group.ts';

/** The rows that some drafts become, numbered. */
export interface NumberedRows {
  readonly ledger: readonly LedgerRow[];
  readonly heads: readonly HeadRow[];
}

/** What all drafts of a group have become. */
export interface Sequenced {
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

const UINT32 = 2 ** 32;

/** Each row's history hash covers the one before it, its number and its content. */
export function historyHash(before: Buffer, seq: number, digest: Buffer): Buffer {
  const covered = Buffer.allocUnsafe(before.length + 8 + digest.length);
  before.copy(covered);
  covered.writeUInt32BE(Math.floor(seq / UINT32), before.length);
  covered.writeUInt32BE(seq % UINT32, before.length + 4);
  digest.copy(covered, before.length + 8);
  return sha256(covered);
}

interface Author {
  readonly client: string | null;
  readonly mutation: number | null;
}

/** Gives every change its place at the tail of its feed, dense and in order, and keeps what a tail carries up to date. */
export class Sequencer {
  readonly #stored: ReadonlyMap<string, Buffer>;
  /** Row hashes since the first change; null where the record left the feed. */
  readonly #hashes = new Map<string, Buffer | null>();
  readonly #tails = new Map<string, Tail>();
  readonly #written = new Map<string, Written>();
  readonly #rowOfDraft: LedgerRow[] = [];

  /** @param stored the row hash of each stored record, by feed and id */
  constructor(stored: ReadonlyMap<string, Buffer>) {
    this.#stored = stored;
  }

  /**
   * Numbers further drafts.
   *
   * @param tails the newest row of each feed before the first of all drafts
   */
  take(drafts: readonly Draft[], tails: ReadonlyMap<string, Tail>): NumberedRows {
    const ledger: LedgerRow[] = [];
    const heads = new Map<string, HeadRow>();
    const append = (feed: string, draft: Draft, gone: boolean): LedgerRow => {
      const { row, key, head } = this.#number(feed, draft, gone, tails);
      ledger.push(row);
      heads.set(key, head);
      return row;
    };
    for (const draft of drafts) {
      if (draft.leaves) append(draft.leaves, draft, true);
      this.#rowOfDraft.push(append(draft.held.feed, draft, draft.withdrawn));
    }
    return { ledger, heads: [...heads.values()] };
  }

  result(): Sequenced {
    return { rowOfDraft: this.#rowOfDraft, written: [...this.#written.values()], tails: this.#tails };
  }

  #number(feed: string, draft: Draft, gone: boolean, tails: ReadonlyMap<string, Tail>) {
    const { state, parent, visit, memory } = draft.held;
    const key = `${feed} ${state.id}`;
    const text = gone ? null : canonicalText(state);
    const digest = sha256(text ?? goneText(state.kind, state.id));
    const rowHash = gone ? null : digest.subarray(0, 8);
    const tail = this.#advance(this.#tails.get(feed) ?? tails.get(feed) ?? EMPTY_TAIL, key, digest, rowHash);
    this.#tails.set(feed, tail);
    const { id, kind, rev } = state;
    const author: Author = { client: state.client, mutation: state.mutation };
    const intent = draft.intent === null || gone ? null : JSON.stringify(draft.intent);
    const row = { feed, ...tail, record: id, kind, rev, state: text, intent, ...author };
    const merge = memory === null || gone ? null : JSON.stringify(memory);
    const head = { feed, id, kind, seq: tail.seq, rev, gone, parent, visit, rowHash, merge };
    this.#written.set(key, { head, text });
    return { row, key, head };
  }

  #advance(before: Tail, key: string, digest: Buffer, rowHash: Buffer | null): Tail {
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
