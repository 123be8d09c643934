import { isUnreadable } from '../protocol/read-mutation.ts';
import { Overlay } from '../rules/overlay.ts';
import {
  type ClientRow,
  loadClients,
  loadReceipts,
  type ReceiptRow,
  receiptKey,
} from '../store/write/load-receipts.ts';
import { countSetAside } from '../store/write/load-set-aside.ts';
import { confirmMemory } from '../store/write/load-tails.ts';
import type { WriteTx } from '../store/write/transaction.ts';
import type { Answer, Batch, Misfit } from './batch.ts';
import { decideFresh, retryWaiting } from './decide-fresh.ts';
import { derive } from './derive.ts';
import { gatherRights, type Owners } from './event-rights.ts';
import { type Fresh, freshOf } from './fresh.ts';
import { type Gathered, gather, type Taking } from './gather.ts';
import { type Group, openGroup } from './group.ts';
import { GroupWriter, type Persisted } from './group-writer.ts';
import { loadClockDays } from './load-clock-days.ts';
import { preparedLine } from './prepared-line.ts';
import { misfits } from './seen-history.ts';
import type { Sequenced } from './sequence.ts';
import { revisionsInDoubt } from './unwitnessed.ts';

export interface Applied {
  readonly answers: readonly Answer[];
  /** What the database holds once the transaction is committed. */
  readonly sequenced: Sequenced;
}

/** A batch whose place in its client's numbering is known. */
interface Placed {
  readonly batch: Batch;
  /** How many of its first lines were received before. */
  readonly known: number;
  /** An answer without any effect: numbers reused, missing, or of another's client. */
  readonly answer: Answer | null;
  /** Handed in by another device than the client is of: answered from its receipts, and nothing is noted of it. */
  readonly ofOther?: boolean;
}

/** The token under which a client pushed last, and the device of that. */
type Owner = Pick<ClientRow, 'token' | 'device'>;

/** Where each client stands; of two batches of one client in a group, the later goes on where the earlier ends. */
interface Standing {
  readonly lasts: Map<string, number>;
  /** Whom each client belongs to, also where it is new in this group; null for nobody yet. */
  readonly owners: Map<string, Owner | null>;
  /** Hash of each mutation that was received before, or earlier in this group. */
  readonly hashes: Map<string, Buffer>;
  /** Those that name revisions of another history than the one here. */
  readonly misfits: ReadonlyMap<Batch, Misfit>;
}

/** The earlier mutations of its own client that a batch builds on. */
function afterNumbers(batch: Batch): number[] {
  return batch.lines.flatMap((line) => {
    const { read } = preparedLine(line);
    const base = isUnreadable(read) ? undefined : read.mutation.base;
    return base !== undefined && 'after' in base ? [base.after] : [];
  });
}

/** A client that is known has receipts up to its last mutation and none beyond it; of another, nothing is known. */
function receiptNeeds(batches: readonly Batch[], clients: ReadonlyMap<string, ClientRow>): [string[], number[]] {
  const needs: [string[], number[]] = [[], []];
  for (const batch of batches) {
    const last = clients.get(batch.client)?.lastMutation ?? Number.POSITIVE_INFINITY;
    const own = batch.lines.map((_, index) => batch.first + index);
    const wanted = [...new Set([...own, ...afterNumbers(batch)])].filter((number) => number <= last);
    needs[0].push(...wanted.map(() => batch.client));
    needs[1].push(...wanted);
  }
  return needs;
}

/** Of a request of its own nothing but receipts is stored, and what comes before this part of it was told already. */
function lastOfRequest({ client, first, lines }: Batch, { hashes }: Standing): number {
  const unknown = lines.findIndex((_, index) => !hashes.has(receiptKey(client, first + index)));
  return first - 1 + (unknown < 0 ? lines.length : unknown);
}

function lastOf(batch: Batch, row: ClientRow | undefined, standing: Standing): number {
  const stored = batch.oneShot ? lastOfRequest(batch, standing) : (row?.lastMutation ?? 0);
  return standing.lasts.get(batch.client) ?? stored;
}

/**
 * A client belongs to a device, whichever of its tokens pushes: a phone that was enrolled anew goes on where it was. A
 * partner may hand in a copy of an outbox; a revoked token may not take up the numbers of another's client.
 */
function isOfOther({ actor, carried }: Batch, owner: Owner | null): boolean {
  if (owner === null || owner.token === null || owner.token === actor.token) return false;
  if (actor.revoked) return true;
  return !carried && (owner.device === null || owner.device !== actor.device);
}

/** A copy that is carried claims nothing: the client stays whose it was, or is nobody's until its own phone comes. */
function ownerAfter({ actor, carried }: Batch, owner: Owner | null): Owner | null {
  return carried && !actor.revoked ? owner : { token: actor.token, device: actor.device };
}

interface Compared {
  readonly hash: Buffer;
  /** Of what was received under that number; null for none. */
  readonly received: Buffer | null;
}

function hashesOf(batch: Batch, standing: Standing): Compared[] {
  return batch.lines.map((line, index) => ({
    hash: preparedLine(line).hash,
    received: standing.hashes.get(receiptKey(batch.client, batch.first + index)) ?? null,
  }));
}

/**
 * Whoever has the very lines that were received gets what was answered then, also under a token of another device: so a
 * phone that was enrolled anew as a new device learns what of its work is here, and says only the rest anew.
 */
function placeOfOther(batch: Batch, row: ClientRow | undefined, standing: Standing): Placed {
  const isNew = ({ hash, received }: Compared) => batch.actor.revoked || !received?.equals(hash);
  const unknown = hashesOf(batch, standing).findIndex(isNew);
  if (unknown >= 0) {
    return { batch, known: 0, answer: { status: 'client_of_other', mutation: batch.first + unknown } };
  }
  standing.lasts.set(batch.client, lastOf(batch, row, standing));
  return { batch, known: batch.lines.length, answer: null, ofOther: true };
}

function ownerOf(batch: Batch, row: ClientRow | undefined, standing: Standing): Owner | null {
  return standing.owners.get(batch.client) ?? row ?? null;
}

function place(batch: Batch, row: ClientRow | undefined, standing: Standing): Placed {
  const owner = ownerOf(batch, row, standing);
  if (isOfOther(batch, owner)) return placeOfOther(batch, row, standing);
  const last = lastOf(batch, row, standing);
  if (batch.first > last + 1) return { batch, known: 0, answer: { status: 'gap', expected: last + 1 } };
  const hashes = hashesOf(batch, standing);
  const reused = hashes.findIndex(({ hash, received }) => received !== null && !received.equals(hash));
  if (reused >= 0) return { batch, known: 0, answer: { status: 'reused', mutation: batch.first + reused } };
  // what a revoked device hands in is kept for a person, whatever it cites: it may not pull, and would never get on
  const misfit = batch.actor.revoked ? undefined : standing.misfits.get(batch);
  const isKnown = batch.first + batch.lines.length - 1 <= last;
  if (misfit && !isKnown)
    return { batch, known: 0, answer: { status: 'other_history', lastMutation: last, ...misfit } };
  for (const [index, { hash }] of hashes.entries()) {
    standing.hashes.set(receiptKey(batch.client, batch.first + index), hash);
  }
  standing.owners.set(batch.client, ownerAfter(batch, owner));
  standing.lasts.set(batch.client, Math.max(last, batch.first + batch.lines.length - 1));
  return { batch, known: Math.min(batch.lines.length, last - batch.first + 1), answer: null };
}

/** In their order: whose a client is when a batch is decided follows from those before it, in this group or not. */
function placeAll(
  batches: readonly Batch[],
  clients: ReadonlyMap<string, ClientRow>,
  standing: Standing,
): { placed: Placed[]; owners: Owners } {
  const owners = new Map<Batch, Pick<ClientRow, 'token' | 'device' | 'seenAt'>>();
  const placed = batches.map((batch) => {
    const row = clients.get(batch.client);
    const { token = null, device = null } = ownerOf(batch, row, standing) ?? {};
    owners.set(batch, { token, device, seenAt: row?.seenAt ?? null });
    return place(batch, row, standing);
  });
  return { placed, owners };
}

async function keptOfRevoked(tx: WriteTx, batches: readonly Batch[]): Promise<Map<string, number>> {
  const kept = new Map<string, number>();
  for (const { actor } of batches.filter((one) => one.actor.revoked)) {
    kept.set(actor.token, await countSetAside(tx, actor.token));
  }
  return kept;
}

function answerOf(placed: Placed, standing: Standing, durable: number, outcomes: ReadonlyMap<string, string>): Answer {
  if (placed.answer) return placed.answer;
  const { batch, known } = placed;
  const texts = batch.lines.map((_, index) => {
    const outcome = outcomes.get(receiptKey(batch.client, batch.first + index));
    if (outcome === undefined) throw new Error(`no outcome for mutation ${batch.first + index} of ${batch.client}`);
    return outcome;
  });
  const lastMutation = standing.lasts.get(batch.client) ?? 0;
  return { status: 'answered', lastMutation, durable, outcomes: texts, repeated: known };
}

/**
 * Applies the batches of one firm in one transaction, whose lock is held: what was received before is answered from
 * its receipts, the rest is decided in order, derived from, numbered and stored.
 */
export async function applyGroup(
  tx: WriteTx,
  batches: readonly Batch[],
  clock: () => Date,
  options: Taking = { takesWaiting: true },
): Promise<Applied> {
  const arrivedMs = clock().getTime();
  const names = [...new Set(batches.map((batch) => batch.client))];
  const [clients, unfit] = await Promise.all([loadClients(tx, names), misfits(tx, batches), confirmMemory(tx)]);
  // after the lock was granted: what is read before this moment cannot know of what is written here
  const now = clock().toISOString();
  const receipts = await loadReceipts(tx, ...receiptNeeds(batches, clients));
  const hashes = new Map([...receipts].map(([key, receipt]) => [key, receipt.hash]));
  const standing: Standing = { lasts: new Map(), owners: new Map(), hashes, misfits: unfit };
  const { placed, owners } = placeAll(batches, clients, standing);
  const accepted = placed.filter((one) => one.answer === null && !one.ofOther);
  const fresh = accepted.flatMap(({ batch, known }) =>
    batch.lines
      .slice(known)
      .map((line, index) => freshOf(batch, batch.first + known + index, line, batch.arrivedMs ?? arrivedMs)),
  );
  const group = await prepare(tx, fresh, accepted, { clients, owners, receipts, options, now });
  await decideFresh(tx, group, await keptOfRevoked(tx, batches));
  if (options.takesUp) retryWaiting(group, true);
  const days = await loadClockDays(tx, group);
  const { outcomes: texts, sequenced } = await write(tx, group, days, new GroupWriter(tx, group, now, arrivedMs));
  const outcomes = new Map([...receipts].map(([key, receipt]) => [key, receipt.outcome]));
  for (const [index, one] of fresh.entries())
    outcomes.set(receiptKey(one.batch.client, one.number), texts[index] ?? '');
  const durable = ({ batch }: Placed) => clients.get(batch.client)?.durable ?? 0;
  return { answers: placed.map((one) => answerOf(one, standing, durable(one), outcomes)), sequenced };
}

/** Derives and stores a group, each while the other is under way. */
async function write(
  tx: WriteTx,
  group: Group,
  days: Awaited<ReturnType<typeof loadClockDays>>,
  writer: GroupWriter,
): Promise<Persisted> {
  try {
    await derive(tx, group, days, (until) => writer.sendEarly(until));
    return await writer.finish();
  } catch (error) {
    throw await writer.whyOf(error);
  }
}

/** What was set aside may build on a mutation of its own client that was applied at once. */
async function receiptsOfWaiting(tx: WriteTx, gathered: Gathered): Promise<Map<string, ReceiptRow>> {
  const needs = [...gathered.waiting, ...gathered.released.values()].flatMap(({ row, read }) => {
    const { base } = read.mutation;
    return base !== undefined && 'after' in base ? [{ client: row.client, mutation: base.after }] : [];
  });
  return loadReceipts(
    tx,
    needs.map((need) => need.client),
    needs.map((need) => need.mutation),
  );
}

interface Known {
  readonly clients: ReadonlyMap<string, ClientRow>;
  readonly owners: Owners;
  readonly receipts: ReadonlyMap<string, ReceiptRow>;
  readonly options: Taking;
  readonly now: string;
}

async function prepare(
  tx: WriteTx,
  fresh: readonly Fresh[],
  accepted: readonly Placed[],
  { clients, owners, receipts, options, now }: Known,
): Promise<Group> {
  const overlay = new Overlay();
  const hashes = new Map<string, Buffer>();
  const gathered = await gather(tx, overlay, hashes, fresh, options);
  const rights = await gatherRights(tx, { overlay, hashes, fresh, gathered, owners, now });
  const batches = accepted.map((one) => one.batch);
  const all = new Map([...receipts, ...(await receiptsOfWaiting(tx, gathered))]);
  const doubt = { revisionsInDoubt: await revisionsInDoubt(tx, { fresh, gathered, overlay }) };
  return openGroup({ overlay, hashes, clients, owners, receipts: all, gathered, batches, fresh, ...doubt }, rights);
}
