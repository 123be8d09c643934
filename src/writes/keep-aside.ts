import type { Code } from '../protocol/codes.ts';
import type { Outcome } from '../protocol/mutation.ts';
import { faultOf } from '../store/fault.ts';
import { loadClients, loadReceipts, receiptKey } from '../store/write/load-receipts.ts';
import { upsertClients } from '../store/write/persist-clients.ts';
import { insertReceipts, insertSetAside } from '../store/write/persist-receipts.ts';
import { inWrite, type WriteTx } from '../store/write/transaction.ts';
import type { Answer, Batch, Line } from './batch.ts';
import { carrierId, carrierOf, handsOf } from './event-rights.ts';
import { type Fresh, freshOf, wallDifference } from './fresh.ts';
import { ownTokenOf, setAsideId } from './outcomes.ts';
import type { WriteContext } from './try-group.ts';

type Clients = Awaited<ReturnType<typeof loadClients>>;

/** Why a mutation is kept. */
interface Why {
  readonly code: Code;
  readonly detail: string;
  readonly error: unknown;
}

function whyOf(error: unknown, setAside: string): Why {
  if (faultOf(error) !== 'refused') {
    return { code: 'server_failed', detail: `a fault of the server itself: its log has it under ${setAside}`, error };
  }
  return { code: 'database_refused', detail: error instanceof Error ? error.message : String(error), error };
}

async function keep(tx: WriteTx, fresh: Fresh, now: string, { code, detail }: Why, clients: Clients): Promise<string> {
  const id = setAsideId(tx.firm, fresh);
  const { batch, number, hash, line, clock, fault } = fresh;
  const outcome: Outcome = { mutationId: number, outcome: 'set_aside', setAside: id, code, detail };
  const text = JSON.stringify(outcome);
  const { client, actor } = batch;
  await insertReceipts(tx, now, [{ client, mutation: number, hash, outcome: text, baseRev: null }]);
  const off = clock ?? (fault === undefined ? null : wallDifference(batch, batch.arrivedMs ?? Date.parse(now)));
  const times = { differenceMs: off?.differenceMs ?? null, uncertaintyMs: off?.uncertaintyMs ?? null };
  const row = { id, client, mutation: number, role: actor.role, person: actor.person, raw: line.bytes, code, detail };
  const owner = clients.get(batch.client);
  const [hand] = handsOf(batch, new Map(owner ? [[batch, owner]] : []), now) ?? [];
  const standing = {
    outcome: 'set_aside' as const,
    waitsFor: [],
    standing: 'kept' as const,
    device: hand?.device ?? null,
    since: hand?.since ?? null,
    carrier: carrierId(carrierOf(batch, owner)),
    schemaVersion: batch.schemaVersion,
  };
  await insertSetAside(tx, now, [{ ...row, ...standing, ...times }]);
  return text;
}

/**
 * Keeps the one mutation that the database refuses or that code of ours fails on, as it came, and lets its client
 * go on: what was captured after it is not held up. Whose it is was looked at before.
 */
export async function keepAside(ctx: WriteContext, firm: string, batch: Batch, error: unknown): Promise<Answer> {
  const [line] = batch.lines;
  if (!line) throw error;
  const setAside = setAsideId(firm, { batch, number: batch.first });
  const why = whyOf(error, setAside);
  const answer = await inWrite(ctx.pool, firm, (tx) => keepOnce(tx, ctx.now().toISOString(), batch, line, why));
  if (why.code === 'server_failed' && answer.status === 'answered' && answer.repeated === 0) {
    ctx.failed?.(setAside, error);
  }
  return answer;
}

async function keepOnce(tx: WriteTx, now: string, batch: Batch, line: Line, why: Why): Promise<Answer> {
  const receipts = await loadReceipts(tx, [batch.client], [batch.first]);
  const known = receipts.get(receiptKey(batch.client, batch.first));
  const fresh = freshOf(batch, batch.first, line, batch.arrivedMs ?? Date.parse(now));
  const clients = await loadClients(tx, [batch.client]);
  const stored = clients.get(batch.client);
  // meanwhile another process may have got something else for its place
  const isPlaced = known
    ? known.hash.equals(fresh.hash)
    : batch.oneShot || batch.first <= (stored?.lastMutation ?? 0) + 1;
  if (!isPlaced) throw why.error;
  const outcome = known?.outcome ?? (await keep(tx, fresh, now, why, clients));
  const lastMutation = Math.max(stored?.lastMutation ?? 0, batch.first);
  if (!batch.oneShot) await upsertClients(tx, now, [clientRow(batch, lastMutation)]);
  return {
    status: 'answered',
    lastMutation,
    durable: stored?.durable ?? 0,
    outcomes: [outcome],
    repeated: known ? 1 : 0,
  };
}

function clientRow(batch: Batch, lastMutation: number) {
  const { client: id, schemaVersion, unsent } = batch;
  const unsentCount = unsent?.count ?? null;
  const unsentOldest = unsent?.oldest ?? null;
  return { id, token: ownTokenOf(batch), lastMutation, schemaVersion, unsentCount, unsentOldest, differenceMs: null };
}
