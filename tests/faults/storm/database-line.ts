import type net from 'node:net';
import { type Counts, type Inspector, type Link, Relay } from '../../support/relay.ts';

/** A simple query of the protocol: its text and a zero. */
const COMMIT = Buffer.from('commit\0');
/** CommandComplete: C, a length of 4 bytes, the tag and a zero. */
const COMMITTED = Buffer.from('C\0\0\0\x0bCOMMIT\0');
/** The name of the statement that every write of a phone sends, and no read does. */
const WRITES = Buffer.from('insert-receipts');

export const COMMIT_SWALLOWED = 'reply to a COMMIT swallowed';
export const COMMIT_UNSENT = 'cut before a COMMIT';
export const COMMIT_VANISHED = 'connection silent from a COMMIT on';

/** `silent`: nothing arrives any more, in either direction, and neither end is told. */
export type CommitFault = 'before' | 'after' | 'silent';

/** The statements of one connection. */
class Statements implements Inspector {
  readonly #line: DatabaseLine;
  readonly #link: Link;
  #writes = false;
  #swallows = false;

  constructor(line: DatabaseLine, link: Link) {
    this.#line = line;
    this.#link = link;
  }

  up(bytes: Buffer): Buffer | null {
    if (bytes.includes(WRITES)) this.#writes = true;
    if (!this.#writes || !bytes.includes(COMMIT)) return bytes;
    this.#writes = false;
    const fault = this.#line.take();
    if (fault === 'before') {
      this.#line.counts.add(COMMIT_UNSENT);
      this.#link.cut();
      return null;
    }
    if (fault === 'silent') {
      this.#line.counts.add(COMMIT_VANISHED);
      this.#link.lost.add('up').add('down');
    }
    this.#swallows = fault === 'after';
    return bytes;
  }

  /** What was answered before the COMMIT arrives; that it was committed does not. */
  down(bytes: Buffer): Buffer | null {
    const place = this.#swallows ? bytes.indexOf(COMMITTED) : -1;
    if (place < 0) return bytes;
    this.#swallows = false;
    this.#line.counts.add(COMMIT_SWALLOWED);
    this.#link.client.end(bytes.subarray(0, place), () => this.#link.cut());
    return null;
  }
}

/** The way between one process of the server and the database. */
export class DatabaseLine {
  readonly counts: Counts;
  #relay: Relay | null = null;
  #armed: { fault: CommitFault; left: number } = { fault: 'after', left: 0 };

  private constructor(counts: Counts) {
    this.counts = counts;
  }

  static async open(upstream: () => net.NetConnectOpts, counts: Counts): Promise<DatabaseLine> {
    const line = new DatabaseLine(counts);
    line.#relay = await Relay.open({ upstream, inspect: (link) => new Statements(line, link) }, counts);
    return line;
  }

  get relay(): Relay {
    if (!this.#relay) throw new Error('the line is not open');
    return this.#relay;
  }

  /** The next so many commits of pushes meet this fault. */
  arm(fault: CommitFault, commits: number): void {
    this.#armed = { fault, left: commits };
  }

  take(): CommitFault | null {
    if (this.#armed.left === 0) return null;
    this.#armed.left -= 1;
    return this.#armed.fault;
  }

  heal(): void {
    this.#armed.left = 0;
    this.relay.heal();
  }
}
