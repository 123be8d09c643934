import { KINDS } from '../protocol/kinds-by-name.ts';
import { isAfterFailed } from '../store/fault.ts';
import { tailsOf } from '../store/write/load-tails.ts';
import { upsertClients } from '../store/write/persist-clients.ts';
import { upsertHeads } from '../store/write/persist-heads.ts';
import { insertLedger } from '../store/write/persist-ledger.ts';
import { insertReceipts, insertSetAside, markDecided, markReleased } from '../store/write/persist-receipts.ts';
import { upsertTyped } from '../store/write/persist-typed.ts';
import { Statements } from '../store/write/statements.ts';
import type { WriteTx } from '../store/write/transaction.ts';
import type { Draft, Group } from './group.ts';
import { clientUpdates, decidedAnew, receiptsOf, setAsideOf } from './outcomes.ts';
import { feedsOf, type Sequenced, Sequencer, typedRows } from './sequence.ts';

/** So many changes are worth statements of their own while the database would wait for what is derived from them. */
const WORTH_SENDING_EARLY = 100;
/**
 * Changes that are sent at a time. A statement starts when all of it has arrived, and what the system does not take at
 * once is sent in a later turn of the event loop: smaller parts keep the database busy from the first on.
 */
const SENT_AT_A_TIME = 200;

export interface Persisted {
  /** The outcome text of each new mutation, in the order of the group. */
  readonly outcomes: readonly string[];
  /** What is to be learnt of the commit. */
  readonly sequenced: Sequenced;
}

function nextTurn(): Promise<void> {
  return new Promise((resolve) => {
    setImmediate(resolve);
  });
}

/**
 * Stores a group, one statement a table for each part of it. The database writes one thing while the next is worked out
 * here: the decided records while what follows from them is derived, typed rows while the changes are numbered and
 * hashed.
 */
export class GroupWriter {
  readonly #tx: WriteTx;
  readonly #group: Group;
  readonly #now: string;
  readonly #arrivedMs: number;
  readonly #statements = new Statements();
  readonly #sequencer: Sequencer;
  #sent = 0;

  /**
   * @param now when it is written
   * @param arrivedMs when it came, by which the clocks of the devices are measured: it may have waited for the lock since
   */
  constructor(tx: WriteTx, group: Group, now: string, arrivedMs = Date.parse(now)) {
    this.#tx = tx;
    this.#group = group;
    this.#now = now;
    this.#arrivedMs = arrivedMs;
    this.#sequencer = new Sequencer(group.hashes);
  }

  /** Sends the drafts before a place, which are decided, if they are many: nothing that is derived later changes them. */
  async sendEarly(until: number): Promise<void> {
    if (until >= WORTH_SENDING_EARLY) await this.#send(until);
  }

  async finish(): Promise<Persisted> {
    await this.#send(this.#group.drafts.length);
    const [tx, group, now, statements] = [this.#tx, this.#group, this.#now, this.#statements];
    const sequenced = this.#sequencer.result();
    const receipts = receiptsOf(group, sequenced.rowOfDraft, tx.firm);
    statements.add(insertReceipts(tx, now, receipts));
    statements.add(upsertClients(tx, now, clientUpdates(group, this.#arrivedMs)));
    statements.add(insertSetAside(tx, now, setAsideOf(group, tx.firm)));
    statements.add(markReleased(tx, group.releasedRows));
    statements.add(markDecided(tx, decidedAnew(group)));
    await statements.done();
    return { outcomes: receipts.map((receipt) => receipt.outcome), sequenced };
  }

  /** A statement that came after one that had failed says nothing: what the first of them failed with, where that is known. */
  whyOf(error: unknown): Promise<unknown> {
    if (!isAfterFailed(error)) return Promise.resolve(error);
    return this.#statements.done().then(
      () => error,
      (first: unknown) => first,
    );
  }

  /** Sends the drafts that were made since the last time, up to a place. */
  async #send(until: number): Promise<void> {
    while (this.#sent < until) {
      const drafts = this.#group.drafts.slice(this.#sent, Math.min(this.#sent + SENT_AT_A_TIME, until));
      this.#sent += drafts.length;
      await this.#sendSome(drafts);
      if (this.#sent < until) await nextTurn();
    }
  }

  async #sendSome(drafts: readonly Draft[]): Promise<void> {
    const tails = tailsOf(this.#tx, feedsOf(drafts));
    this.#statements.add(tails);
    this.#sendTyped(drafts);
    await nextTurn();
    const { ledger, heads } = this.#sequencer.take(drafts, await tails);
    this.#statements.add(insertLedger(this.#tx, this.#now, ledger));
    await nextTurn();
    this.#statements.add(upsertHeads(this.#tx, heads));
  }

  /** Parents before children, since foreign keys are checked at once. */
  #sendTyped(drafts: readonly Draft[]): void {
    const byKind = typedRows(drafts);
    for (const kind of KINDS) {
      const rows = byKind.get(kind.name);
      if (rows) this.#statements.add(upsertTyped(this.#tx, kind.name, rows));
    }
  }
}
