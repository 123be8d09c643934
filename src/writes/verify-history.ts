import { createHash } from 'node:crypto';
import { NO_ROWS, xorHash } from '../protocol/content-hash.ts';
import type { LedgerEntry } from '../store/read/ledger-rows.ts';
import { EMPTY_TAIL } from '../store/write/tail.ts';
import { goneText, historyHash } from './sequence.ts';

/** Follows the rows of a feed from its beginning and says of each whether it follows from the one before it. */
export class HistoryCheck {
  readonly #live = new Map<string, string>();
  #seq = EMPTY_TAIL.seq;
  #history = EMPTY_TAIL.historyHash;
  #content = NO_ROWS;

  /** @returns what is wrong with the row; undefined where it fits */
  fault(row: LedgerEntry): string | undefined {
    const expected = this.#seq + 1;
    const before = this.#history;
    const digest = createHash('sha256')
      .update(row.text ?? goneText(row.kind, row.record))
      .digest();
    this.#seq = row.seq;
    // each row is judged by what the one before it says of itself, so that one fault is listed once
    this.#history = row.historyHash;
    this.#take(row, digest);
    if (row.seq !== expected) return `row ${row.seq} stands where row ${expected} should`;
    if (!historyHash(before, row.seq, digest).equals(row.historyHash))
      return `the history hash of row ${row.seq} differs`;
    if (this.#live.size !== row.liveCount)
      return `row ${row.seq} counts ${row.liveCount} records, not ${this.#live.size}`;
    if (this.#content !== row.contentHash.toString('hex')) return `the content hash of row ${row.seq} differs`;
    return undefined;
  }

  #take(row: LedgerEntry, digest: Buffer): void {
    const old = this.#live.get(row.record);
    if (old !== undefined) this.#content = xorHash(this.#content, old);
    if (row.text === null) {
      this.#live.delete(row.record);
      return;
    }
    const hash = digest.subarray(0, 8).toString('hex');
    this.#live.set(row.record, hash);
    this.#content = xorHash(this.#content, hash);
  }
}
