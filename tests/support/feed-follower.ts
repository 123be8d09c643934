import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';
import type pg from 'pg';
import { feedPage } from '../../src/reads/feed-page.ts';
import type { Reader } from '../../src/reads/reader.ts';

/** A row as a follower gets it: null where the record is gone. */
export interface Delivered {
  readonly id: string;
  readonly version: number;
  readonly content: string | null;
}

export interface Delivery {
  readonly rows: readonly Delivered[];
  readonly cursor: string;
  readonly more: boolean;
  /** What the source says of itself at its tail, where it says anything. */
  readonly sums?: { readonly tail: number; readonly count: number; readonly contentHash: string };
}

/** Anything that can be followed from nothing by asking again and again for what is new. */
export type Source = (cursor: string | null) => Promise<Delivery>;

function rowHash(content: string): bigint {
  return BigInt(`0x${createHash('sha256').update(content).digest('hex').slice(0, 16)}`);
}

/** Follows a source and keeps what it was given; compares itself with what the source says, and with the truth. */
export class Follower {
  readonly source: Source;
  readonly rows = new Map<string, Delivered>();
  cursor: string | null = null;
  pages = 0;
  delivered = 0;
  sums: Delivery['sums'];

  constructor(source: Source) {
    this.source = source;
  }

  /** Asks until there is nothing more. */
  async catchUp(): Promise<void> {
    for (let more = true; more; ) {
      const page = await this.source(this.cursor);
      this.pages++;
      for (const row of page.rows) {
        this.delivered++;
        this.rows.set(row.id, row);
      }
      this.cursor = page.cursor;
      this.sums = page.sums;
      more = page.more;
    }
  }

  live(): Delivered[] {
    return [...this.rows.values()].filter((row) => row.content !== null);
  }

  /** Where what it has differs from what the source says of itself; empty where they agree. */
  disagreements(): string[] {
    if (!this.sums) return [];
    const live = this.live();
    const hash = live
      .reduce((sum, row) => sum ^ rowHash(row.content ?? ''), 0n)
      .toString(16)
      .padStart(16, '0');
    const found = [];
    if (live.length !== this.sums.count) found.push(`it has ${live.length} records, the tail says ${this.sums.count}`);
    if (hash !== this.sums.contentHash) found.push(`its content is ${hash}, the tail says ${this.sums.contentHash}`);
    return found;
  }

  /** Rows of the truth that it never got, or has an older version of. */
  missed(truth: readonly Delivered[]): Delivered[] {
    return truth.filter((row) => this.rows.get(row.id)?.version !== row.version);
  }
}

interface Page {
  readonly cursor: string;
  readonly more: boolean;
  readonly tail: number;
  readonly count: number;
  readonly contentHash: string;
  readonly rows: readonly {
    readonly seq: number;
    readonly record?: { readonly id: string };
    readonly gone?: { id: string };
  }[];
}

/** A feed, through the pages that phones get. */
export function feedSource(pool: pg.Pool, reader: Reader, feed: string, limit: number): Source {
  return async (cursor) => {
    const page = JSON.parse(await feedPage(pool, reader, { feed, cursor, limit, client: null })) as Page;
    const rows = page.rows.map(({ seq, record, gone }) => {
      return { id: record?.id ?? gone?.id ?? '', version: seq, content: record ? (canonicalize(record) ?? '') : null };
    });
    const { tail, count, contentHash } = page;
    return { rows, cursor: page.cursor, more: page.more, sums: { tail, count, contentHash } };
  };
}
