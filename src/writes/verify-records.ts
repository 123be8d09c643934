import { NIL } from 'uuid';
import { resolutionId } from '../rules/merge/resolution-id.ts';
import { type ChangeBy, changesNowhere, releasedAfter, typedRevisions } from '../store/read/ledger-witnesses.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { TYPED_TABLES } from '../store/tables.ts';
import type { SetAsideRow } from '../store/write/load-set-aside.ts';
import type { Difference } from './difference.ts';
import { readWaiting, type Waiting } from './waiting.ts';

const PAGE = 5_000;
/** What was set aside is kept whole, and may be long. */
const RELEASED_PAGE = 500;

/** A decision of a conflict is a record of its own. A line in the place of another number was applied under its own. */
function changeBy({ row: { client }, read }: Waiting): ChangeBy {
  const { verb, id, mutationId: mutation } = read.mutation;
  return { record: verb === 'resolve' ? resolutionId(client, mutation) : id, client, mutation };
}

/** What the reader of today fails on witnesses nothing. */
function readAgain(row: SetAsideRow): Waiting[] {
  try {
    return readWaiting([row]);
  } catch {
    return [];
  }
}

/** What was set aside and applied later, without another receipt than that it was set aside. */
async function releasedNowhere(tx: ReadTx): Promise<Difference[]> {
  const found: Difference[] = [];
  for (let after: string = NIL; ; ) {
    const rows = await releasedAfter(tx, after, RELEASED_PAGE);
    const waiting = rows.flatMap(readAgain);
    for (const at of await changesNowhere(tx, waiting.map(changeBy))) {
      const { row, read } = waiting[at] as Waiting;
      const detail = `mutation ${row.mutation} of client ${row.client} was set aside and applied later, and no feed has it`;
      found.push({ feed: '-', kind: read.kind.name, id: read.mutation.id, what: 'history', detail });
    }
    after = rows.at(-1)?.id ?? after;
    if (rows.length < RELEASED_PAGE) return found;
  }
}

/** Records of a kind that stand in their typed table at a revision that is not the newest of the ledger. */
async function typedUnlike(tx: ReadTx, kind: string): Promise<Difference[]> {
  const found: Difference[] = [];
  for (let after: string = NIL; ; ) {
    const rows = await typedRevisions(tx, kind, after, PAGE);
    for (const { id, rev, feed, ledgerRev } of rows.filter((row) => row.rev !== row.ledgerRev)) {
      const detail = `its typed row is of revision ${rev}, and the newest in the ledger is ${ledgerRev ?? 'none'}`;
      found.push({ feed: feed ?? '-', kind, id, what: 'typed', detail });
    }
    after = rows.at(-1)?.id ?? after;
    if (rows.length < PAGE) return found;
  }
}

/** Compares the ledger with what was applied late, and with the typed tables. */
export async function recordsAgainst(tx: ReadTx): Promise<Difference[]> {
  const found = [await releasedNowhere(tx)];
  for (const kind of Object.keys(TYPED_TABLES)) found.push(await typedUnlike(tx, kind));
  return found.flat();
}
