import type { ClockDay } from '../../../src/store/write/device-clocks.ts';
import type { HeadRow } from '../../../src/store/write/head-row.ts';
import type { ClientUpdate } from '../../../src/store/write/persist-clients.ts';
import type { LedgerRow } from '../../../src/store/write/persist-ledger.ts';
import type { NewReceipt, NewSetAside } from '../../../src/store/write/persist-receipts.ts';

export type ClientEntry = Pick<ClientUpdate, 'id' | 'token' | 'lastMutation'> & {
  /** Up to which of its mutations it may forget what it keeps. */
  readonly durable: number;
  /** The list of feeds that it knew when it captured what it has not sent, by its time. */
  readonly seenAt: string | null;
};
export type LedgerEntry = LedgerRow & { readonly receivedAt: string };
export type ReceiptEntry = NewReceipt & { readonly receivedAt: string };
export type SetAsideEntry = NewSetAside & { readonly receivedAt: string };
export type TypedEntry = Readonly<Record<string, unknown>>;

/** What a database forgets when it is set back, and keeps when it is only started again. */
export interface Installation {
  readonly epoch: string;
  readonly cursorKey: Buffer;
  /** An epoch began after the first one. */
  readonly began?: true;
}

/**
 * The tables of the server in memory, those of one firm. Rows are never changed, only replaced, so a copy is as good as
 * a backup. Inside a transaction every change notes how it is undone.
 */
export class Tables {
  installation: Installation;
  readonly ledger = new Map<string, LedgerEntry>();
  readonly tails = new Map<string, LedgerEntry>();
  readonly heads = new Map<string, HeadRow>();
  /** Where each record is live. */
  readonly live = new Map<string, HeadRow>();
  /** Up to where rows of a feed that say that a record is gone may be missing. */
  readonly floors = new Map<string, number>();
  readonly clients = new Map<string, ClientEntry>();
  readonly receipts = new Map<string, ReceiptEntry>();
  readonly setAside = new Map<string, SetAsideEntry>();
  readonly clockDays = new Map<string, ClockDay>();
  readonly typed = new Map<string, Map<string, TypedEntry>>();
  #undo: (() => void)[] | null = null;

  constructor(installation: Installation) {
    this.installation = installation;
  }

  typedOf(table: string): Map<string, TypedEntry> {
    const rows = this.typed.get(table) ?? new Map<string, TypedEntry>();
    this.typed.set(table, rows);
    return rows;
  }

  put<Value>(map: Map<string, Value>, key: string, value: Value): void {
    const before = map.get(key);
    this.#undo?.push(() => (before === undefined ? map.delete(key) : map.set(key, before)));
    map.set(key, value);
  }

  remove<Value>(map: Map<string, Value>, key: string): void {
    const before = map.get(key);
    if (before === undefined) return;
    this.#undo?.push(() => map.set(key, before));
    map.delete(key);
  }

  begin(): void {
    if (this.#undo) throw new Error('the model takes one transaction at a time');
    this.#undo = [];
  }

  commit(): void {
    this.#undo = null;
  }

  rollback(): void {
    for (const undo of (this.#undo ?? []).reverse()) undo();
    this.#undo = null;
  }

  /** What is in a backup that was just made of these tables. */
  markDurable(marks: Tables): void {
    for (const [id, { lastMutation }] of marks.clients) {
      const client = this.clients.get(id);
      if (client && client.durable < lastMutation) this.clients.set(id, { ...client, durable: lastMutation });
    }
  }

  copy(): Tables {
    const copy = new Tables(this.installation);
    for (const name of MAPS) for (const [key, row] of this[name]) (copy[name] as Map<string, unknown>).set(key, row);
    for (const [table, rows] of this.typed) copy.typed.set(table, new Map(rows));
    return copy;
  }
}

const MAPS = ['ledger', 'tails', 'heads', 'live', 'floors', 'clients', 'receipts', 'setAside', 'clockDays'] as const;

/** Names a row of the ledger or a head. */
export function placeKey(feed: string, at: number | string): string {
  return `${feed} ${at}`;
}
