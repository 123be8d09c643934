import { NIL } from 'uuid';
import type { Outcome } from '../protocol/mutation.ts';
import {
  clientMarks,
  type OtherRow,
  type Place,
  placesUnlike,
  type ReceiptEntry,
  receiptsAfter,
} from '../store/read/told-receipts.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import type { Difference } from './difference.ts';

const PAGE = 5_000;
const BEFORE_ALL = { client: NIL, mutation: 0 };

/** A receipt that says where its mutation stands. */
interface Told {
  readonly receipt: ReceiptEntry;
  readonly place: Place;
  readonly kind: string;
}

/** What a feed has otherwise than clients were told. */
interface Untold {
  /** Of the rows that are not there, the one that stood furthest, and their number. */
  gone?: { readonly told: Told; count: number };
  /** The first place where something else stands. */
  other?: { readonly told: Told; readonly row: OtherRow; count: number };
}

/** Undefined where a receipt cannot be read; null where its mutation was not applied. */
function toldBy(receipt: ReceiptEntry): Told | null | undefined {
  try {
    const { kind = '', id, rev, feed, seq } = JSON.parse(receipt.outcome) as Outcome;
    if (feed === undefined || seq === undefined) return null;
    if (id === undefined || !Number.isSafeInteger(seq) || !Number.isSafeInteger(rev)) return undefined;
    return { receipt, kind, place: { feed, seq, id, rev: Number(rev) } };
  } catch {
    return undefined;
  }
}

function inWords({ receipt: { client, mutation, receivedAt }, kind, place }: Told): string {
  return `client ${client} was told that its mutation ${mutation} of ${receivedAt} is there: revision ${place.rev} of ${kind} ${place.id}`;
}

class ReceiptsCheck {
  readonly #tails: ReadonlyMap<string, number>;
  readonly #marks: Map<string, number>;
  readonly #feeds = new Map<string, Untold>();
  #last: Pick<ReceiptEntry, 'client' | 'mutation'> = BEFORE_ALL;
  readonly differences: Difference[] = [];

  /** @param marks the last mutation of each client, as is noted beside its receipts */
  constructor(tails: ReadonlyMap<string, number>, marks: ReadonlyMap<string, number>) {
    this.#tails = tails;
    this.#marks = new Map(marks);
  }

  /** Receipts in the order of their clients and numbers. @returns those that say where their mutation stands */
  follow(receipts: readonly ReceiptEntry[]): Told[] {
    return receipts.flatMap((receipt) => {
      const { client, mutation } = receipt;
      if (client !== this.#last.client) this.#ended();
      const expected = client === this.#last.client ? this.#last.mutation + 1 : 1;
      if (mutation !== expected) this.#receipt(client, `its receipt ${expected} is missing: ${mutation} comes next`);
      this.#last = { client, mutation };
      const told = toldBy(receipt);
      if (told === undefined) this.#receipt(client, `its receipt ${mutation} cannot be read`);
      return told ?? [];
    });
  }

  /** A client has receipts up to the last mutation that is noted of it. */
  #ended(): void {
    const { client, mutation } = this.#last;
    this.#short(client, mutation, this.#marks.get(client) ?? 0);
    this.#marks.delete(client);
  }

  #short(client: string, last: number, mark: number): void {
    if (last >= mark) return;
    this.#receipt(client, `its receipts end at ${last}, and it came to ${mark}: to which feeds is not known any more`);
  }

  #receipt(id: string, detail: string): void {
    this.differences.push({ feed: '-', kind: 'client', id, what: 'receipt', detail });
  }

  unlike(told: Told, row: OtherRow): void {
    const { feed, seq } = told.place;
    const known = this.#feeds.get(feed) ?? {};
    this.#feeds.set(feed, known);
    if (row.record === null) {
      const { gone } = known;
      const furthest = gone === undefined || gone.told.place.seq < seq ? told : gone.told;
      known.gone = { told: furthest, count: (gone?.count ?? 0) + 1 };
      return;
    }
    const { other } = known;
    const first = other === undefined || seq < other.told.place.seq ? { told, row } : other;
    known.other = { ...first, count: (other?.count ?? 0) + 1 };
  }

  ended(): void {
    this.#ended();
    for (const [client, mark] of this.#marks) this.#short(client, 0, mark);
    for (const [feed, { gone, other }] of [...this.#feeds].sort(([a], [b]) => (a < b ? -1 : 1))) {
      const tail = this.#tails.get(feed) ?? 0;
      if (gone) {
        const { seq } = gone.told.place;
        const more = `row ${seq} is not there, and the ledger ends at row ${tail}`;
        this.#history(gone.told, `${more}; ${inWords(gone.told)}; rows named by receipts and not there: ${gone.count}`);
      }
      if (other) {
        const { kind, record, rev } = other.row;
        const is = `row ${other.told.place.seq} is revision ${rev} of ${kind} ${record}`;
        this.#history(other.told, `${is}; ${inWords(other.told)}; rows unlike their receipts: ${other.count}`);
      }
    }
  }

  #history({ place: { feed, id }, kind }: Told, detail: string): void {
    this.differences.push({ feed, kind, id, what: 'history', detail });
  }
}

/**
 * Compares the ledger with what clients were told of it: each receipt of a mutation that was applied names the row that it
 * became. So a feed is found whose end was cut off, also where it went on since. Receipts are dense by client, and each
 * client has its last number noted beside them.
 *
 * @param tails the last row of each feed
 */
export async function receiptsAgainst(tx: ReadTx, tails: ReadonlyMap<string, number>): Promise<Difference[]> {
  const marks = await clientMarks(tx);
  const noted = marks.map(({ id, lastMutation, durable }): [string, number] => [id, Math.max(lastMutation, durable)]);
  const check = new ReceiptsCheck(tails, new Map(noted));
  let after: Pick<ReceiptEntry, 'client' | 'mutation'> = BEFORE_ALL;
  for (;;) {
    const receipts = await receiptsAfter(tx, after, PAGE);
    const told = check.follow(receipts);
    const unlike = await placesUnlike(
      tx,
      told.map(({ place }) => place),
    );
    for (const row of unlike) {
      const one = told[row.at];
      if (one) check.unlike(one, row);
    }
    after = receipts.at(-1) ?? after;
    if (receipts.length < PAGE) break;
  }
  check.ended();
  return check.differences;
}
