import { createHash } from 'node:crypto';
import type pg from 'pg';
import { KINDS } from '../../../src/protocol/kinds-by-name.ts';
import type { RecordState } from '../../../src/protocol/record.ts';
import { inRead, type ReadTx } from '../../../src/store/read/transaction.ts';
import type { HeadRow } from '../../../src/store/write/head-row.ts';
import type { ClientUpdate } from '../../../src/store/write/persist-clients.ts';
import type { LedgerRow } from '../../../src/store/write/persist-ledger.ts';
import type { NewReceipt } from '../../../src/store/write/persist-receipts.ts';
import type { TypedRow } from '../../../src/store/write/persist-typed.ts';

/** The rows that the server wrote in one transaction, table by table. */
export interface WrittenGroup {
  readonly receivedAt: string;
  readonly ledger: LedgerRow[];
  readonly heads: Map<string, HeadRow>;
  readonly typed: Map<string, Map<string, TypedRow>>;
  readonly receipts: NewReceipt[];
  readonly clients: Map<string, ClientUpdate>;
}

interface Stamped {
  readonly receivedAt: string;
}

interface StoredLedger extends LedgerRow, Stamped {
  readonly parent: string | null;
  readonly visit: string | null;
  readonly merge: string | null;
}

const LEDGER = `select l.feed, l.seq, l.record, l.kind, l.rev, l.state::text as state, l.intent::text as intent, l.client,
  l.mutation, l.live_count as "liveCount", l.content_hash as "contentHash", l.history_hash as "historyHash",
  l.received_at as "receivedAt", h.parent, h.visit, h.merge::text as merge
from ledger l join head h on h.firm = l.firm and h.feed = l.feed and h.id = l.record
where l.firm = $1 and l.received_at > $2 order by l.received_at, l.feed, l.seq`;

const RECEIPTS = `select client, mutation, hash, outcome, base_rev as "baseRev", received_at as "receivedAt"
from receipt where firm = $1 and received_at > $2 order by received_at, client, mutation`;

const CLIENTS = `select id, token, last_mutation as "lastMutation", schema_version as "schemaVersion",
  unsent_count as "unsentCount", unsent_oldest as "unsentOldest", difference_ms as "differenceMs"
from client where firm = $1`;

async function select<Row extends pg.QueryResultRow>(tx: ReadTx, text: string, ...values: unknown[]): Promise<Row[]> {
  return (await tx.client.query<Row>(text, [tx.firm, ...values])).rows;
}

/** Reads what was written after a time, in the transactions in which it was written. */
export class RowCapture {
  readonly #pool: pg.Pool;
  readonly #firm: string;
  /** A row that says "gone" has no state; its typed row keeps the one before it. */
  readonly #states = new Map<string, RecordState>();
  #since = '2000-01-01T00:00:00Z';

  constructor(pool: pg.Pool, firm: string) {
    this.#pool = pool;
    this.#firm = firm;
  }

  /** What was written since the last call. */
  next(): Promise<WrittenGroup[]> {
    return inRead(this.#pool, this.#firm, async (tx) => {
      // A server that does its work has a statement limit; reading its whole history back may take longer.
      await tx.client.query('set local statement_timeout = 0');
      const ledger = await select<StoredLedger>(tx, LEDGER, this.#since);
      const receipts = await select<NewReceipt & Stamped>(tx, RECEIPTS, this.#since);
      const clients = new Map((await select<ClientUpdate>(tx, CLIENTS)).map((row) => [row.id, row]));
      const groups = new Map<string, WrittenGroup>();
      for (const row of ledger) this.#place(groupAt(groups, row.receivedAt), row);
      for (const receipt of receipts) placeReceipt(groupAt(groups, receipt.receivedAt), receipt, clients);
      this.#since = [...groups.keys()].at(-1) ?? this.#since;
      return [...groups.values()];
    });
  }

  #place(group: WrittenGroup, row: StoredLedger): void {
    const { feed, seq, record: id, kind, rev, parent, visit, merge } = row;
    const gone = row.state === null;
    const rowHash = row.state === null ? null : createHash('sha256').update(row.state).digest().subarray(0, 8);
    const state = row.state === null ? this.#states.get(id) : (JSON.parse(row.state) as RecordState);
    if (!state) throw new Error(`${kind} ${id} was withdrawn before it was written`);
    this.#states.set(id, state);
    group.ledger.push(row);
    group.heads.set(`${feed} ${id}`, { feed, id, kind, seq, rev, gone, parent, visit, rowHash, merge });
    const rows = group.typed.get(kind) ?? new Map<string, TypedRow>();
    group.typed.set(kind, rows.set(id, { state, withdrawn: gone }));
  }
}

function groupAt(groups: Map<string, WrittenGroup>, receivedAt: string): WrittenGroup {
  const known = groups.get(receivedAt);
  if (known) return known;
  const group = { receivedAt, ledger: [], heads: new Map(), typed: new Map(), receipts: [], clients: new Map() };
  groups.set(receivedAt, group);
  return group;
}

function placeReceipt(group: WrittenGroup, receipt: NewReceipt, clients: ReadonlyMap<string, ClientUpdate>): void {
  group.receipts.push(receipt);
  const client = clients.get(receipt.client);
  if (client) group.clients.set(client.id, client);
}

/** The kinds in the order in which their tables are written: parents before children. */
export const KIND_ORDER = KINDS.map((kind) => kind.name);
