import type { Outcome } from '../protocol/mutation.ts';
import { loadClients, loadReceipts, receiptKey } from '../store/write/load-receipts.ts';
import { upsertClients } from '../store/write/persist-clients.ts';
import { insertReceipts, insertSetAside } from '../store/write/persist-receipts.ts';
import { inWrite, type WriteTx } from '../store/write/transaction.ts';
import type { WriteContext } from './apply.ts';
import type { Answer, Batch, Line } from './batch.ts';
import { carrierId, carrierOf } from './event-rights.ts';
import { type Fresh, freshOf } from './fresh.ts';
import { ownTokenOf, setAsideId } from './outcomes.ts';

type Clients = Awaited<ReturnType<typeof loadClients>>;

function whatItSaid(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

async function keep(tx: WriteTx, fresh: Fresh, now: string, detail: string, clients: Clients): Promise<string> {
  const id = setAsideId(tx.firm, fresh);
  const { batch, number, hash, line } = fresh;
  const code = 'database_refused';
  const outcome: Outcome = { mutationId: number, outcome: 'set_aside', setAside: id, code, detail };
  const text = JSON.stringify(outcome);
  const { client, actor } = batch;
  await insertReceipts(tx, now, [{ client, mutation: number, hash, outcome: text, baseRev: null }]);
  const { differenceMs = null, uncertaintyMs = null } = fresh.clock ?? {};
  const times = { differenceMs, uncertaintyMs };
  const row = { id, client, mutation: number, role: actor.role, person: actor.person, raw: line.bytes, code, detail };
  const kept = {
    outcome: 'set_aside' as const,
    waitsFor: [],
    standing: 'kept' as const,
    device: actor.device,
    since: null,
    carrier: carrierId(carrierOf(batch, clients.get(batch.client))),
    schemaVersion: batch.schemaVersion,
  };
  await insertSetAside(tx, now, [{ ...row, ...kept, ...times }]);
  return text;
}

/** Keeps the one mutation that the database refuses, as it came, and lets its client go on. */
export async function keepRefused(ctx: WriteContext, firm: string, batch: Batch, error: unknown): Promise<Answer> {
  const [line] = batch.lines;
  if (!line) throw error;
  return inWrite(ctx.pool, firm, (tx) => keepOnce(tx, ctx.now().toISOString(), batch, line, whatItSaid(error)));
}

async function keepOnce(tx: WriteTx, now: string, batch: Batch, line: Line, detail: string): Promise<Answer> {
  const receipts = await loadReceipts(tx, [batch.client], [batch.first]);
  const known = receipts.get(receiptKey(batch.client, batch.first));
  const fresh = freshOf(batch, batch.first, line, batch.arrivedMs ?? Date.parse(now));
  const clients = await loadClients(tx, [batch.client]);
  const outcome = known?.outcome ?? (await keep(tx, fresh, now, detail, clients));
  const row = clients.get(batch.client);
  const lastMutation = Math.max(row?.lastMutation ?? 0, batch.first);
  if (!batch.oneShot) await upsertClients(tx, now, [clientRow(batch, lastMutation)]);
  return { status: 'answered', lastMutation, durable: row?.durable ?? 0, outcomes: [outcome], repeated: known ? 1 : 0 };
}

function clientRow(batch: Batch, lastMutation: number) {
  const { client: id, schemaVersion, unsent } = batch;
  const unsentCount = unsent?.count ?? null;
  const unsentOldest = unsent?.oldest ?? null;
  return { id, token: ownTokenOf(batch), lastMutation, schemaVersion, unsentCount, unsentOldest, differenceMs: null };
}
