import type pg from 'pg';
import { faultOf, isAfterFailed, isOverrun } from '../store/fault.ts';
import { RecordMemory } from '../store/write/record-memory.ts';
import { inWrite, isNotOpened, isOwnOverrun, type WriteTx } from '../store/write/transaction.ts';
import { applyGroup } from './apply-group.ts';
import type { Answer, Batch } from './batch.ts';
import type { FirmMemories } from './firm-memories.ts';
import type { Taking } from './gather.ts';
import { keepAside } from './keep-aside.ts';

/** What the write door stands on. */
export interface WriteContext {
  readonly pool: pg.Pool;
  readonly now: () => Date;
  /**
   * Called after each commit with where the feeds of the firm that it changed end now; with null where it is not known
   * what was committed, since an answer of the database was lost.
   */
  readonly committed: (firm: string, tails: ReadonlyMap<string, number> | null) => void;
  /**
   * Told of a line on which code of ours failed, or that took too long when it was taken up: it is set aside, and tried
   * again. Where nobody is told, a push that meets a fault of ours fails with it.
   */
  readonly failed?: (setAside: string, error: unknown) => void;
  /** What the process remembers from one transaction to the next; without it, everything is loaded each time. */
  readonly memories?: FirmMemories;
}

/** How often a group is tried when the database asks for it, before the client is told to ask again. */
const TRIES = 4;

/** What became of a batch: its answer, or what it failed with. */
export type Settled = { readonly answer: Answer } | { readonly error: unknown };

/** How a group is applied. */
interface Manner extends Taking {
  /** A part of what overran or failed before: that it overruns is found out once. */
  readonly isPart?: boolean;
}

/** Applies batches in one transaction, which is tried again where the database asks for it. */
export async function tryGroup(
  ctx: WriteContext,
  firm: string,
  batches: readonly Batch[],
  manner: Manner = { takesWaiting: true },
): Promise<Answer[]> {
  const work = (tx: WriteTx) => applyGroup(tx, batches, ctx.now, manner);
  for (let tries = 1; ; tries++) {
    const memory = ctx.memories?.of(firm) ?? new RecordMemory();
    try {
      const { answers, sequenced } = await inWrite(ctx.pool, firm, work, memory);
      memory.learn(sequenced.written, sequenced.tails);
      ctx.committed(firm, new Map([...sequenced.tails].map(([feed, { seq }]) => [feed, seq])));
      return [...answers];
    } catch (error) {
      // it may have read back what it had written itself
      ctx.memories?.drop(firm);
      // A lost COMMIT reply means "unknown": trying again with the same numbers finds the receipts or applies anew.
      const transient = faultOf(error) === 'transient';
      if (transient) ctx.committed(firm, null);
      // what is taken up unasked, or can be done in parts, has the lock no longer than it takes once to find that it overruns
      const isTooMuch = manner.takesUp ? isOverrun(error) : isOwnOverrun(error) && (manner.isPart || hasParts(batches));
      if (!transient || isTooMuch || tries >= TRIES) throw error;
    }
  }
}

/** What comes as one request stays together, unless the database refuses it. */
function hasParts(batches: readonly Batch[]): boolean {
  return batches.length > 1 || batches.some(({ lines, oneShot }) => lines.length > 1 && !oneShot);
}

/**
 * Whether it is due to one of the lines, or to their number, so that it would come again with the same. What failed
 * before it had the lock says nothing about them.
 */
function isOfLines(batches: readonly Batch[], error: unknown): boolean {
  if (isNotOpened(error)) return false;
  const fault = faultOf(error);
  if (fault === 'transient') return isOverrun(error) && hasParts(batches);
  if (batches.length > 1 || fault === 'refused') return true;
  // a part is small enough for its statements to be waited for one by one, and then the database says which it refuses
  if (isAfterFailed(error)) return (batches[0]?.lines.length ?? 0) > 1;
  return fault === 'ours' && !batches[0]?.oneShot;
}

function halves(batches: readonly Batch[]): [readonly Batch[], readonly Batch[]] {
  const middle = Math.ceil(batches.length / 2);
  return [batches.slice(0, middle), batches.slice(middle)];
}

function halvesOf(batch: Batch): [Batch, Batch] {
  const middle = Math.ceil(batch.lines.length / 2);
  const first = { ...batch, lines: batch.lines.slice(0, middle) };
  return [first, { ...batch, first: batch.first + middle, lines: batch.lines.slice(middle) }];
}

function joined(first: Answer, second: Answer): Answer {
  if (first.status !== 'answered' || second.status !== 'answered') return second;
  return {
    ...second,
    outcomes: [...first.outcomes, ...second.outcomes],
    repeated: first.repeated + second.repeated,
  };
}

/**
 * Who asks for an answer at once is told that it failed: nothing stands behind it and waits. What a revoked device hands
 * in is for a person to look at, and would not be after this.
 */
function keeps({ failed }: WriteContext, { oneShot, actor }: Batch, error: unknown): boolean {
  if (faultOf(error) === 'refused') return true;
  return faultOf(error) === 'ours' && !isNotOpened(error) && failed !== undefined && !oneShot && !actor.revoked;
}

/** One mutation: what waited for it may be the culprit, and then goes on waiting. */
async function applyOne(ctx: WriteContext, firm: string, batch: Batch): Promise<Answer> {
  try {
    const [answer] = await tryGroup(ctx, firm, [batch], { takesWaiting: false, isPart: true });
    if (!answer) throw new Error('the write door lost an answer');
    return answer;
  } catch (error) {
    if (!keeps(ctx, batch, error)) throw error;
    return keepAside(ctx, firm, batch, error);
  }
}

/** The later half is tried only where the earlier was answered: what comes after a gap has no place. */
async function applyHalves(ctx: WriteContext, firm: string, batch: Batch): Promise<Answer> {
  const [left, right] = halvesOf(batch);
  const first = await applyPart(ctx, firm, left);
  return first.status === 'answered' ? joined(first, await applyPart(ctx, firm, right)) : first;
}

/** A batch that fails as a whole: the half without the culprit goes through, the culprit alone is set aside. */
function applySplit(ctx: WriteContext, firm: string, batch: Batch): Promise<Answer> {
  return batch.lines.length <= 1 ? applyOne(ctx, firm, batch) : applyHalves(ctx, firm, batch);
}

async function applyPart(ctx: WriteContext, firm: string, batch: Batch): Promise<Answer> {
  const [settled] = await applyAll(ctx, firm, [batch], true);
  if (!settled) throw new Error('the write door lost a part of a batch');
  if ('error' in settled) throw settled.error;
  return settled.answer;
}

async function settle(work: Promise<Answer>): Promise<Settled> {
  try {
    return { answer: await work };
  } catch (error) {
    return { error };
  }
}

async function applyAll(
  ctx: WriteContext,
  firm: string,
  batches: readonly Batch[],
  isPart: boolean,
): Promise<Settled[]> {
  try {
    const answers = await tryGroup(ctx, firm, batches, { takesWaiting: true, isPart });
    return answers.map((answer) => ({ answer }));
  } catch (error) {
    if (!isOfLines(batches, error)) return batches.map(() => ({ error }));
    const [only] = batches;
    if (batches.length === 1 && only) return [await settle(applySplit(ctx, firm, only))];
    const [left, right] = halves(batches);
    return [...(await applyAll(ctx, firm, left, true)), ...(await applyAll(ctx, firm, right, true))];
  }
}

/**
 * The one door for writes. Applies batches of a firm in one transaction and says what became of each, in their order. If
 * the database refuses the group, code of ours fails on it or it takes too long, it is split until the culprit is found.
 * What a batch failed with is what the database says where it cannot be reached, or where one mutation alone takes too
 * long: then it is not known what of it is stored, and it may be sent again.
 */
export function apply(ctx: WriteContext, firm: string, batches: readonly Batch[]): Promise<Settled[]> {
  return applyAll(ctx, firm, batches, false);
}
