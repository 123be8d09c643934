import { KINDS } from '../protocol/kinds-by-name.ts';
import { loadTails } from '../store/write/load-tails.ts';
import { upsertClients } from '../store/write/persist-clients.ts';
import { upsertHeads } from '../store/write/persist-heads.ts';
import { insertLedger } from '../store/write/persist-ledger.ts';
import { insertReceipts, insertSetAside, markReleased } from '../store/write/persist-receipts.ts';
import { upsertTyped } from '../store/write/persist-typed.ts';
import type { WriteTx } from '../store/write/transaction.ts';
import type { Group } from './group.ts';
import { clientUpdates, receiptsOf, setAsideOf } from './outcomes.ts';
import { feedsOf, sequence } from './sequence.ts';

/**
 * Stores a decided group, one statement a table; parents before children, since foreign keys are checked at once.
 *
 * @returns the outcome text of each new mutation, in the order of the group
 */
export async function persist(tx: WriteTx, group: Group, now: string): Promise<string[]> {
  const tails = await loadTails(tx, feedsOf(group.drafts));
  const sequenced = sequence(group.drafts, tails, group.hashes);
  for (const kind of KINDS) {
    const rows = sequenced.typed.get(kind.name);
    if (rows) await upsertTyped(tx, kind.name, rows);
  }
  const receipts = receiptsOf(group, sequenced.rowOfDraft, tx.firm);
  await insertLedger(tx, now, sequenced.ledger);
  await upsertHeads(tx, sequenced.heads);
  await upsertClients(tx, now, clientUpdates(group, Date.parse(now)));
  await insertReceipts(tx, now, receipts);
  await insertSetAside(tx, now, setAsideOf(group, tx.firm));
  await markReleased(tx, group.releasedRows);
  return receipts.map((receipt) => receipt.outcome);
}
