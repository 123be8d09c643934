import { KINDS } from '../protocol/kinds-by-name.ts';
import { tailsOf } from '../store/write/load-tails.ts';
import { upsertClients } from '../store/write/persist-clients.ts';
import { upsertHeads } from '../store/write/persist-heads.ts';
import { insertLedger } from '../store/write/persist-ledger.ts';
import { insertReceipts, insertSetAside, markReleased } from '../store/write/persist-receipts.ts';
import { upsertTyped } from '../store/write/persist-typed.ts';
import { Statements } from '../store/write/statements.ts';
import type { WriteTx } from '../store/write/transaction.ts';
import type { Group } from './group.ts';
import { clientUpdates, receiptsOf, setAsideOf } from './outcomes.ts';
import { feedsOf, type Sequenced, sequence, typedRows } from './sequence.ts';

export interface Persisted {
  readonly outcomes: readonly string[];
  readonly sequenced: Sequenced;
}

/** Parents before children, since foreign keys are checked at once. */
function sendTyped(tx: WriteTx, group: Group, statements: Statements): void {
  const byKind = typedRows(group.drafts);
  for (const kind of KINDS) {
    const rows = byKind.get(kind.name);
    if (rows) statements.add(upsertTyped(tx, kind.name, rows));
  }
}

/**
 * Stores a decided group, one statement a table. The database writes the typed rows while the changes are numbered and
 * hashed here, and those while the receipts are made.
 *
 * @returns the outcome text of each new mutation, in the order of the group, and what is to be learnt of the commit
 */
export async function persist(tx: WriteTx, group: Group, now: string): Promise<Persisted> {
  const statements = new Statements();
  const tails = tailsOf(tx, feedsOf(group.drafts));
  statements.add(tails);
  sendTyped(tx, group, statements);
  const sequenced = sequence(group.drafts, await tails, group.hashes);
  statements.add(insertLedger(tx, now, sequenced.ledger));
  statements.add(upsertHeads(tx, sequenced.heads));
  const receipts = receiptsOf(group, sequenced.rowOfDraft, tx.firm);
  statements.add(insertReceipts(tx, now, receipts));
  statements.add(upsertClients(tx, now, clientUpdates(group, Date.parse(now))));
  statements.add(insertSetAside(tx, now, setAsideOf(group, tx.firm)));
  statements.add(markReleased(tx, group.releasedRows));
  await statements.done();
  return { outcomes: receipts.map((receipt) => receipt.outcome), sequenced };
}
