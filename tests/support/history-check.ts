import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';
import type pg from 'pg';

interface Row {
  readonly feed: string;
  readonly seq: number;
  readonly record: string;
  readonly kind: string;
  readonly state: string | null;
  readonly live_count: number;
  readonly content_hash: Buffer;
  readonly history_hash: Buffer;
}

function sha256(...parts: readonly (Buffer | string)[]): Buffer {
  const hash = createHash('sha256');
  for (const part of parts) hash.update(part);
  return hash.digest();
}

function bigEndian(value: number): Buffer {
  const bytes = Buffer.alloc(8);
  bytes.writeBigUInt64BE(BigInt(value));
  return bytes;
}

function text(row: Row): string {
  return row.state ?? canonicalize({ gone: { kind: row.kind, id: row.record } }) ?? '';
}

/** What a feed amounts to after each row, worked out from the rows alone. */
class Feed {
  seq = 0;
  history = Buffer.alloc(32);
  readonly live = new Map<string, bigint>();

  /** @returns what is wrong with the row, in words */
  take(row: Row): string[] {
    const faults = [];
    if (row.seq !== this.seq + 1) faults.push(`${row.feed}: ${row.seq} follows ${this.seq}`);
    this.seq = row.seq;
    const digest = sha256(text(row));
    this.history = Buffer.from(sha256(this.history, bigEndian(row.seq), digest));
    if (row.state === null) this.live.delete(row.record);
    else this.live.set(row.record, digest.readBigUInt64BE(0));
    const content = [...this.live.values()].reduce((sum, one) => sum ^ one, 0n);
    if (!this.history.equals(row.history_hash)) faults.push(`${row.feed} ${row.seq}: another history hash`);
    if (content !== row.content_hash.readBigUInt64BE(0)) faults.push(`${row.feed} ${row.seq}: another content hash`);
    if (this.live.size !== row.live_count) faults.push(`${row.feed} ${row.seq}: ${this.live.size} live`);
    return faults;
  }
}

/** Verifies every row of every feed of a firm against the one before it; lists what is wrong. */
export async function historyFaults(bypass: pg.Pool, firm: string): Promise<{ rows: number; faults: string[] }> {
  const { rows } = await bypass.query<Row>(
    `select feed, seq, record, kind, state::text as state, live_count, content_hash, history_hash
from ledger where firm = $1 order by feed, seq`,
    [firm],
  );
  const feeds = new Map<string, Feed>();
  const faults = rows.flatMap((row) => {
    const feed = feeds.get(row.feed) ?? new Feed();
    feeds.set(row.feed, feed);
    return feed.take(row);
  });
  return { rows: rows.length, faults };
}
